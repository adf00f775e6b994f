import { test } from "vitest";
import { stationPressure } from "#core/chemistry/index.ts";
import { hPa, metres } from "#core/units/index.ts";
import { heldAgainst, readTable } from "./held.ts";

// Source: US Standard Atmosphere 1976, its table (from memory) and its formula. See the table.
const table = readTable("station-pressure");

test("station pressure holds the standard atmosphere", () => {
  const held = heldAgainst(table);
  for (const row of table.rows) {
    const result = stationPressure(hPa(row.number("seaLevel")), metres(row.number("elevation")));
    held.value(row, "station", result.value);
  }
  held.report(29);
});
