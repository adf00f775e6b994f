import { test } from "vitest";
import { salinityFromRefractometer } from "#core/chemistry/index.ts";
import { degC, pureNumber } from "#core/units/index.ts";
import { heldAgainst, readTable } from "./held.ts";

// Source: Quan & Fry 1995, Appl. Opt. 34, 3477, solved by SciPy. See the table.
const table = readTable("refractometer");

test("an uncompensated refractometer reading becomes the salinity of Quan & Fry", () => {
  const held = heldAgainst(table);
  for (const row of table.rows) {
    const result = salinityFromRefractometer({
      reading: pureNumber(row.number("reading")),
      t: degC(row.number("temperature")),
      tCal: degC(row.number("calibration")),
    });
    held.value(row, "salinity", result.value);
  }
  held.report(32);
});
