/** A team's own home water from a file: what would be stored is looked at first, what is refused says why, and it comes before the climatology. */
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { openClimatology } from "#climate/open.ts";
import { homeWaterLookView, homeWaterSeriesListView } from "#contract/home-water-forms.ts";
import {
  loadHomeWaterFile,
  readHomeWaterSeries,
  tryHomeWaterFile,
} from "#services/home-water/home-water-file.ts";
import { withdrawHomeWaterSeries } from "#services/home-water/home-water-plans.ts";
import { readSeasonProposal } from "#services/home-water/propose-season.ts";
import { readHomeOrNative } from "#services/home-water/read-native-water.ts";
import type { World } from "../world.ts";
import { CURATOR, entry, openHall, profile, stay } from "./made.ts";

const climatology = openClimatology();
const PLACE = { latitude: 33.1, longitude: -117.3 };
const monthly = (of: (month: number) => string) =>
  `month,value\n${Array.from({ length: 12 }, (_, i) => `${i + 1},${of(i + 1)}`).join("\n")}\n`;
const SAID = { name: "Our pier", source: "logger of the pier, 2024", reason: "nearer than a box" };

let world: World;
beforeEach(async () => {
  world = await openHall(
    [stay("a", "sheephead")],
    [profile("sheephead", [entry({ low: 13, high: 20, kind: "advice" })])],
  );
});
afterEach(() => world.dispose());
const look = (more: object) =>
  tryHomeWaterFile({ ...world.write, climatology }, CURATOR, { ...PLACE, quantity: "temperature", ...more });
const load = (more: object) =>
  loadHomeWaterFile(world.write, CURATOR, { ...PLACE, quantity: "temperature", ...SAID, ...more });

describe("looking at a file", () => {
  it("tells the months of a dated logger beside what counts there today, and stores nothing", async () => {
    const before = (await world.store.verifyAudit()).rows;
    const days = Array.from({ length: 366 }, (_, i) => new Date(Date.UTC(2024, 0, 1 + i)));
    const text = `date,value,depth\n${days
      .map((day) => `${day.toISOString().slice(0, 10)},${10 + day.getUTCMonth()},2`)
      .join("\n")}\n`;
    const seen = await look({ text });
    expect(homeWaterLookView.parse(seen)).toEqual(seen);
    expect(seen).toMatchObject({ read: 366, refused: [], refusedCount: 0, missing: [], ignored: ["depth"] });
    expect(seen.months.map((month) => month?.value)).toEqual([
      10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21,
    ]);
    expect(seen.months[1]).toMatchObject({ n: 29, years: [2024], spread: 0 });
    // Source: COADS, box at 33 N 117 W: 14.8 in January and 20.1 in August.
    expect(seen.beside?.months[0]).toBeCloseTo(14.8, 1);
    expect(seen.beside?.months[7]).toBeCloseTo(20.1, 1);
    expect((await world.store.verifyAudit()).rows).toBe(before);
  });
  it("refuses row by row with line and reason, and names the months that are missing", async () => {
    const seen = await look({
      text: 'date,value\n2024-01-05,12.1\n2024-02-30,12\n5.3.2024,12\n2024-04-05,<12\n2024-05-05,120\n2024-06-05,"12,5"\n2024-07-05,warm\n',
    });
    expect(seen.read).toBe(1);
    expect(seen.refused.slice(0, 4).map(({ line, value, says }) => [line, value, says])).toEqual([
      [3, "2024-02-30", "is not a date"],
      [4, "5.3.2024", "is not a date"],
      [5, "<12", expect.stringContaining("a limit, not a value")],
      [6, "120", expect.stringContaining("is outside the possible temperature of water")],
    ]);
    expect(seen.refused.slice(-2)).toMatchObject([
      { line: 7, says: expect.stringContaining("decimal sign"), remedy: 'choose "," if the file uses it' },
      { line: 8, says: "not a number", remedy: "correct the cell, or leave the row out" },
    ]);
    expect(seen.missing).toEqual([2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]);
  });
  it("reads units, decimal commas, month names and spreads; a spread takes no offset with it", async () => {
    // 59 °F is 15 °C and a spread of 1.8 °F one of 1 K. Source: NIST SP 811, B.8.
    const names = ["Jan", "February", "mar", "4", "5", "6", "7", "8", "9", "10", "11", "December"];
    const fahrenheit = await look({
      unit: "[degF]",
      text: `Month;Value;Spread\n${names.map((name) => `${name};59;1.8`).join("\n")}\n`,
    });
    expect(fahrenheit.refused).toEqual([]);
    expect(fahrenheit.months[0]).toMatchObject({ value: 15, spread: 1 });
    const comma = await look({
      decimal: ",",
      text: `month;value;unit\n1;288,15;K\n2;12,5;Cel\n3;9;furlong\n`,
    });
    expect(comma.months.slice(0, 2).map((month) => month?.value)).toEqual([15, 12.5]);
    expect(comma.refused).toMatchObject([{ line: 4, value: "furlong" }]);
  });
  it("says what a heading must name, and is refused where the sea is not known only in what it is beside", async () => {
    await expect(look({ text: "when,what\n1,2\n" })).rejects.toMatchObject({
      code: "invalid",
      issues: [{ field: "text", says: "the heading names when, what" }],
    });
    expect((await look({ latitude: 47, longitude: 90, text: monthly(() => "9") })).beside).toBeNull();
  });
});

describe("a loaded file", () => {
  it("comes before the climatology in native water and in a proposed season, and no more once withdrawn", async () => {
    const { id } = await load({ text: monthly((month) => String(14 + month / 10)) });
    const near = { latitude: 33, longitude: -117 };
    const own = await readHomeOrNative({ climatology, store: world.store }, near);
    expect(own.temperature[11]).toBe(15.2);
    expect(own.source.temperature).toContain("Our pier, loaded by curator: logger of the pier, 2024");
    const season = () =>
      readSeasonProposal({ ...world.read, climatology }, "kelp", { quantity: "temperature" });
    expect((await season()).home).toContain("Our pier");
    const list = await readHomeWaterSeries(world.read);
    expect(homeWaterSeriesListView.parse(list)).toEqual(list);
    expect(list.series).toMatchObject([{ id, name: "Our pier", withdrawn: null, recordedBy: "curator" }]);
    await withdrawHomeWaterSeries(world.write, CURATOR, id);
    expect((await season()).home).toContain("box at 33, -117");
    expect((await readHomeWaterSeries(world.read)).series[0]?.withdrawn).toBe(world.now);
  });
  it("is refused without a source, without a month, and with refused rows unless they may be left out", async () => {
    const whole = monthly(() => "15");
    await expect(load({ text: whole, source: "" })).rejects.toMatchObject({ issues: [{ field: "source" }] });
    await expect(load({ text: "month,value\n1,15\n" })).rejects.toMatchObject({
      issues: [{ field: "text", says: "has no value for month 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12" }],
    });
    const torn = `${whole}12,warm\n`;
    await expect(load({ text: torn })).rejects.toMatchObject({
      issues: [
        {
          field: "leaveOut",
          value: "warm",
          says: expect.stringContaining("1 row is refused, the first in line 14"),
        },
      ],
    });
    expect((await readHomeWaterSeries(world.read)).series).toEqual([]);
    await load({ text: torn, leaveOut: true });
    expect((await readHomeWaterSeries(world.read)).series).toHaveLength(1);
  });
});
