import { test } from "vitest";
import { osmolality } from "#core/chemistry/index.ts";
import { degC, psu } from "#core/units/index.ts";
import { heldAgainst, readTable } from "./held.ts";

// Source: GSW-Python 3.6.16 (TEOS-10). See the table.
const table = readTable("osmolality");

test("osmotic coefficient and osmolality stay within a fifth of a percent of TEOS-10", () => {
  const held = heldAgainst(table);
  for (const row of table.rows) {
    const result = osmolality(psu(row.number("salinity")), degC(row.number("temperature")));
    held.value(row, "coefficient", result.osmoticCoefficient);
    held.value(row, "osmolality", result.value);
  }
  held.report(36);
});
