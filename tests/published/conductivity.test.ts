import { test } from "vitest";
import { conductivityFromSalinity } from "#core/chemistry/index.ts";
import { dbar, degC, psu } from "#core/units/index.ts";
import { heldAgainst, readTable } from "./held.ts";

// Sources: UNESCO 44 p. 14; GSW-Python 3.6.16. See the table.
const table = readTable("conductivity");

test("conductivity from salinity holds the published and reference values", () => {
  const held = heldAgainst(table);
  for (const row of table.rows) {
    const result = conductivityFromSalinity(
      psu(row.number("salinity")),
      degC(row.number("temperature")),
      dbar(row.number("pressure")),
    );
    held.value(row, "conductivity", result.value);
  }
  held.report(39);
});
