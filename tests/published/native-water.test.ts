import { expect, test } from "vitest";
import { openClimatology } from "#climate/open.ts";
import { monthlyDayLengths, nativeWaterAt } from "#core/native-water/index.ts";
import { heldAgainst, readTable } from "./held.ts";

const MONTHS = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"] as const;

// Source: COADS and World Ocean Atlas climatologies, Levitus salinity; see the table.
test("native water at fifteen places holds what another program read from the climatologies", async () => {
  const table = readTable("native-water");
  const held = heldAgainst(table);
  const climatology = await openClimatology()();
  for (const row of table.rows) {
    const place = { latitude: row.number("latitude"), longitude: row.number("longitude") };
    const found = nativeWaterAt(climatology, place, row.number("depth"));
    if (!found.ok) throw new Error(`row ${row.index}: ${found.says}`);
    const { water } = found;
    MONTHS.forEach((month, i) => {
      held.value(row, month, water.temperature[i] ?? null);
    });
    held.value(row, "salinity", water.salinity);
    const [low, high] = [row.numberOrNull("salinityLow"), row.numberOrNull("salinityHigh")];
    if (low !== null && high !== null) {
      // Near a river mouth one figure would say too much: what the cells around say must meet the published range.
      const [least, most] = water.salinityNear ?? [Number.NaN, Number.NaN];
      expect(least, row.text("place")).toBeLessThanOrEqual(high);
      expect(most, row.text("place")).toBeGreaterThanOrEqual(low);
    }
    const box = [row.numberOrNull("boxLatitude"), row.numberOrNull("boxLongitude")];
    if (box[0] !== null) expect([water.box.latitude, water.box.longitude]).toEqual(box);
  }
  held.report(15 * 12 + 10);
});

// Source: the series of the NOAA solar calculator; see the table.
test("mid-month day lengths hold the NOAA series at seven latitudes", () => {
  const table = readTable("monthly-day-length");
  const held = heldAgainst(table);
  for (const row of table.rows) {
    const lengths = monthlyDayLengths({ latitude: row.number("latitude"), longitude: 0 });
    MONTHS.forEach((month, i) => {
      held.value(row, month, lengths[i] ?? null);
    });
  }
  held.report(7 * 12);
});
