import { expect, test } from "vitest";
import { CIVIL_HORIZON, dayLength } from "#core/chemistry/index.ts";
import { heldAgainst, readTable } from "./held.ts";

// Source: PyEphem 4.1.4 (planetary theory VSOP87). See the table.
const table = readTable("day-length");

test("noon, rise, set, twilight and length of day hold a full planetary theory to about a minute", () => {
  const held = heldAgainst(table);
  for (const row of table.rows) {
    const place = {
      latitude: row.number("latitude"),
      longitude: row.number("longitude"),
      date: row.text("date"),
    };
    const day = dayLength(place);
    const twilight = dayLength({ ...place, horizon: CIVIL_HORIZON });
    const where = Math.abs(place.latitude) >= 60 ? { polar: true } : {};
    expect(day.sun, `row ${row.index}`).toBe(row.text("sun"));
    held.value(row, "noon", day.noon, where);
    held.value(row, "rise", day.rise, where);
    held.value(row, "set", day.set, where);
    held.value(row, "length", day.value === null ? null : day.value * 60, where);
    held.value(row, "dawn", twilight.rise, where);
    held.value(row, "dusk", twilight.set, where);
  }
  held.report(316);
});
