import { test } from "vitest";
import { seawaterDensity } from "#core/chemistry/index.ts";
import { degC, psu } from "#core/units/index.ts";
import { heldAgainst, readTable } from "./held.ts";

// Sources: UNESCO 44 check values; python-seawater (EOS-80); GSW-Python 3.6.16 (TEOS-10). See the table.
const table = readTable("density");

test("sea-water density holds the published and reference values", () => {
  const held = heldAgainst(table);
  for (const row of table.rows) {
    const rho = seawaterDensity(psu(row.number("salinity")), degC(row.number("temperature"))).value;
    held.value(row, "density", rho);
    held.value(row, "densityTeos10", rho);
  }
  held.report(92);
});
