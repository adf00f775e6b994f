import { afterEach, describe, expect, it } from "vitest";
import { homeWaterListView, homeWaterView } from "#contract/home-water.ts";
import { monthHalves, stretchesOf, tallyOf } from "#core/fit/index.ts";
import { QUARTER_HOUR } from "#core/quality/rollup.ts";
import { DAY, HOUR, MINUTE } from "#core/time/instant.ts";
import { homeWaterTable } from "#services/home-water/home-water-table.ts";
import { setLightPlan } from "#services/home-water/light-plans.ts";
import { listHomeWater } from "#services/home-water/list-home-water.ts";
import { readHomeWater } from "#services/home-water/read-home-water.ts";
import { changeBand } from "#services/set-up/change-band.ts";
import { type World, ZONE } from "../world.ts";
import { CURATOR, entry, openHall, profile, rollupsOf, stay } from "./made.ts";

const YEAR = Date.UTC(2026, 0, 1);
/** Wolf-eels want it cold in winter, garibaldi never below 15: no common range from October to March. */
const EEL = profile("wolf-eel", [
  ...[8, 8, 9, 10, 11, 12, 12, 12, 11, 10, 8, 8].map((low, i) =>
    entry({ month: i + 1, low, high: low + 8 - (i < 3 || i > 8 ? 4 : 0), kind: "ambient" }),
  ),
  ...[12, 12, 13, 18, 19, 20, 20, 20, 19, 14, 12, 12].map((high, i) =>
    entry({ month: i + 1, low: 8, high, kind: "advice" }),
  ),
]);
const GARIBALDI = profile("garibaldi", [
  entry({ low: 15, high: null, kind: "advice", source: "keepers' practice" }),
]);
const HALVES = monthHalves(2026, ZONE);

let world: World;
afterEach(() => world.dispose());

async function hall() {
  world = await openHall(
    [stay("a", "garibaldi", { count: 9 }), stay("b", "wolf-eel", { name: "Bramble" })],
    [EEL, GARIBALDI],
  );
  const stream = await world.stream("kelp", "display", "temperature");
  const rows = rollupsOf(
    stream.id,
    YEAR,
    world.now,
    (at) => 15.5 + 2 * Math.sin((at - YEAR) / (20 * DAY)),
    (at) => at >= YEAR + 40 * DAY && at < YEAR + 42 * DAY,
  );
  await world.evaluated({ rollups: rows });
  return { stream, rows };
}

describe("home water of a system", () => {
  it("shares out the same quarter hours as counting the rows by hand, exactly, a row a species", async () => {
    const { stream, rows } = await hall();
    const view = homeWaterView.parse(await readHomeWater(world.read, "kelp"));
    const temperature = view.quantities.find(({ quantity }) => quantity === "temperature");
    const eel = temperature?.fits.find(({ against }) => against === "wolf-eel");
    expect(temperature?.fits.map(({ against, kind }) => [against, kind])).toEqual([
      ["garibaldi", "advice"],
      ["wolf-eel", "native"],
      ["the common range", "common"],
    ]);
    const ranges = EEL.entries
      .filter(({ kind }) => kind === "ambient")
      .map(({ low, high }) => ({ low, high }));
    for (let month = 1; month <= 11; month += 1) {
      const stretches = stretchesOf(
        stream.id,
        ranges,
        HALVES.filter((half) => half.month === month),
        YEAR,
        world.now,
      );
      const by = stretches.map((stretch) => tallyOf(stretch, rows));
      const n = by.reduce((sum, tally) => sum + tally.n, 0);
      const missed = by.reduce((sum, tally) => sum + tally.below + tally.above, 0);
      expect(eel?.months[month - 1]?.scored, `month ${month}`).toBe(n);
      expect(eel?.months[month - 1]?.share, `month ${month}`).toBe((n - missed) / n);
    }
    expect(eel?.months[11]).toBeNull();
  });
  it("does not score months of conflict against the common range, and says who disagrees, by how much", async () => {
    await hall();
    const view = await readHomeWater(world.read, "kelp");
    const common = view.quantities[0]?.fits.find(({ kind }) => kind === "common");
    expect(common?.months[0]).toBeNull();
    expect(common?.months[5]?.scored).toBe((30 * DAY) / QUARTER_HOUR);
    expect(view.conflicts).toHaveLength(1);
    expect(view.conflicts[0]).toMatchObject({ gap: 3, months: [1, 2, 3, 10, 11, 12], compromise: null });
    expect(view.conflicts[0]?.says).toContain(
      "garibaldi needs at least 15.0 °C, wolf-eel at most 12.0 °C. The gap is 3.0 °C.",
    );
    expect(view.quantities[0]?.common?.[0]?.low).toMatchObject({
      species: "garibaldi",
      source: "keepers' practice",
    });
  });
  it("counts what was not read as not read: two days of February are missing from the scored quarter hours", async () => {
    await hall();
    const view = await readHomeWater(world.read, "kelp");
    const february = view.quantities[0]?.fits.find(({ against }) => against === "wolf-eel")?.months[1];
    expect((february?.possible ?? 0) - (february?.scored ?? 0)).toBe((2 * DAY) / QUARTER_HOUR);
  });
  it("holds a species only while it lived there", async () => {
    world = await openHall(
      [stay("b", "wolf-eel", { from: Date.UTC(2026, 2, 10), to: Date.UTC(2026, 3, 5) })],
      [EEL, GARIBALDI],
    );
    const stream = await world.stream("kelp", "display", "temperature");
    await world.evaluated({ rollups: rollupsOf(stream.id, YEAR, world.now, () => 12) });
    const view = await readHomeWater(world.read, "kelp");
    const months = view.quantities[0]?.fits.find(({ against }) => against === "wolf-eel")?.months;
    expect(months?.map((month) => (month ? (month.possible * QUARTER_HOUR) / HOUR : 0))).toEqual([
      ...[0, 0],
      // From 10 March 00:00 UTC to the end of March in London, where an hour is lost; to 5 April 00:00 UTC, which is 01:00 there.
      ...[22 * 24 - 1, 4 * 24 + 1],
      ...Array.from({ length: 8 }, () => 0),
    ]);
    expect(view.residents).toEqual([]);
  });
  it("tells light by the day: a timer an hour early since the clock change, length right", async () => {
    await hall();
    await setLightPlan(world.write, CURATOR, "kelp", {
      hours: [10.5],
      middle: "13:00",
      latitude: 33,
      validFrom: YEAR,
      reason: "as at home",
      source: "computed",
    });
    const light = await world.stream("kelp", "display", "illuminance");
    const source = await world.store.ensureSource("gateway-1", "gateway");
    const from = Date.UTC(2026, 9, 18);
    const readings = [];
    for (let at = from; at < world.now; at += 15 * MINUTE) {
      // On the clock of summer all the time: lit from 06:45 to 17:15 UTC.
      const hour = ((at - from) % DAY) / HOUR;
      readings.push({
        stream: light.id,
        at,
        value: hour >= 6.75 && hour < 17.25 ? 900 : 0.8,
        source: source.id,
        sequence: null,
        mark: null,
      });
    }
    await world.store.append({ now: world.now, readings, rejected: [], unclaimed: [] });
    const view = await readHomeWater(world.read, "kelp");
    expect(view.light?.findings).toHaveLength(1);
    expect(view.light?.findings[0]).toMatchObject({ kind: "clock", severity: "action", to: null });
    expect(view.light?.findings[0]?.says).toBe(
      "Light one hour early since 25 Oct: the clock change was not followed.",
    );
    expect(view.headline).toContain("Light one hour early since 25 Oct");
    expect(view.light?.lengthFit.days).toBeGreaterThan(30);
  });
  it("is the same in the list, which has a row a system, and in the table, which has a row a month and range", async () => {
    await hall();
    const view = await readHomeWater(world.read, "kelp");
    const list = homeWaterListView.parse(await listHomeWater(world.read));
    expect(list.systems.map(({ system }) => system)).toEqual(["kelp", "rays"]);
    const row = list.systems[0]?.fits.find(({ quantity }) => quantity === "temperature");
    expect(row).toMatchObject({ kind: "native", against: "wolf-eel", band: { kind: "common" } });
    expect(row?.year).toEqual(view.quantities[0]?.fits.find(({ kind }) => kind === "native")?.year);
    expect(row?.band?.year).toEqual(view.quantities[0]?.fits.find(({ kind }) => kind === "common")?.year);
    expect(list.systems[0]?.conflict).toContain("The gap is 3.0 °C");
    const lines = homeWaterTable(view).split("\r\n");
    expect(lines).toHaveLength(1 + 3 * 12 + 1);
    expect(lines[0]).toMatch(/^system,year,month,quantity,unit,against,kind,range_low,range_high/);
    expect(
      lines.find((line) => line.startsWith("kelp,2026,6,temperature,Cel,wolf-eel,native,12,20")),
    ).toContain("a made-up survey (read)");
  });
  it("puts the native range before the band: water wholly inside its own band is not at home for that", async () => {
    world = await openHall(
      [stay("a", "garibaldi"), stay("b", "wolf-eel")],
      [
        profile("wolf-eel", [entry({ low: 8, high: 12 }), entry({ low: 8, high: 17, kind: "advice" })]),
        GARIBALDI,
      ],
    );
    await changeBand(world.write, CURATOR, "kelp", {
      quantity: "temperature",
      point: "display",
      months: [{ low: 14, high: 18, actionLow: null, actionHigh: null, urgentLow: null, urgentHigh: null }],
      validFrom: YEAR,
      reason: "what the chiller holds",
      source: "team",
    });
    const stream = await world.stream("kelp", "display", "temperature");
    const warm = (at: number) => (at < YEAR + 100 * DAY ? 11.5 : 15.5);
    await world.evaluated({ rollups: rollupsOf(stream.id, YEAR + 90 * DAY, world.now, warm) });
    const view = await readHomeWater(world.read, "kelp");
    expect(view.headline).toMatch(
      /^Temperature inside the native range of wolf-eel 4 % of the time that could be scored, widest miss \+3\.5 °C\. The native temperature range of garibaldi is not known\. Inside the target band 96 %\./,
    );
    const [row] = (await listHomeWater(world.read)).systems[0]?.fits ?? [];
    expect(row).toMatchObject({ kind: "native", against: "wolf-eel", band: { kind: "target" } });
  });
  it("says that no native range is known where only a band could be scored", async () => {
    world = await openHall([stay("a", "garibaldi")], [GARIBALDI]);
    const stream = await world.stream("kelp", "display", "temperature");
    await world.evaluated({ rollups: rollupsOf(stream.id, YEAR, world.now, () => 15.5) });
    expect((await readHomeWater(world.read, "kelp")).headline).toBe(
      "No native temperature range is known. Inside the common range 100 % of the time that could be scored.",
    );
  });
  it("says of a system that nobody lives in that there is nothing to hold it against", async () => {
    world = await openHall([], []);
    const view = homeWaterView.parse(await readHomeWater(world.read, "kelp"));
    expect(view).toMatchObject({ quantities: [], light: null, conflicts: [], gaps: [], residents: [] });
  });
});
