import { test } from "vitest";
import { freezingPoint } from "#core/chemistry/index.ts";
import { dbar, psu } from "#core/units/index.ts";
import { heldAgainst, readTable } from "./held.ts";

// Sources: UNESCO 44 p. 30; python-seawater; GSW-Python 3.6.16. See the table.
const table = readTable("freezing");

test("the freezing point holds the published and reference values", () => {
  const held = heldAgainst(table);
  for (const row of table.rows) {
    const t = freezingPoint(psu(row.number("salinity")), dbar(row.number("pressure"))).value;
    held.value(row, "freezing", t);
    held.value(row, "freezingTeos10", t);
  }
  held.report(35);
});
