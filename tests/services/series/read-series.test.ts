import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { seriesView } from "#contract/views.ts";
import { DAY, HOUR, MINUTE } from "#core/time/instant.ts";
import { readSeries } from "#services/series/read-series.ts";
import { changePoint } from "#services/set-up/change-point.ts";
import { actorWith, BAND, band, NOW, openWorld, rollup, system, type World } from "../world.ts";

let world: World;
beforeEach(async () => {
  world = await openWorld([system("reef")], [band("reef")]);
});
afterEach(() => world.dispose());

async function fill(count: number, step: number, from = NOW - count * step) {
  const stream = await world.stream("reef", "display", "temperature");
  const source = await world.store.ensureSource("gateway-1", "gateway");
  const readings = Array.from({ length: count }, (_, i) => ({
    stream: stream.id,
    at: from + i * step,
    value: 25 + (i % 4) / 10,
    source: source.id,
    sequence: null,
    mark: null,
  }));
  await world.store.append({ now: NOW, readings, rejected: [], unclaimed: [] });
  return stream;
}

test("where no point is named, the exhibit is meant, whatever it is called; without one, the point has to be named", async () => {
  const curator = actorWith("curator", "curator");
  await world.stream("reef", "display", "temperature");
  await world.stream("reef", "sump", "temperature");
  const pointRead = async () => (await readSeries(world.read, "reef", { quantity: "temperature" })).point;
  expect(await pointRead()).toBe("display");
  const says = { reason: "the names were swapped" };
  await changePoint(world.write, curator, "reef", "display", { role: "sump", ...says });
  await expect(pointRead()).rejects.toMatchObject({
    issues: [{ field: "point", remedy: "use one of display, sump" }],
  });
  await changePoint(world.write, curator, "reef", "sump", { role: "exhibit", ...says });
  expect(await pointRead()).toBe("sump");
});

describe("resolution", () => {
  test("few readings come raw, in order, at their own times", async () => {
    await fill(12, 5 * MINUTE);
    const view = seriesView.parse(
      await readSeries(world.read, "reef", { quantity: "temperature", from: NOW - HOUR }),
    );
    expect(view).toMatchObject({
      resolution: "raw",
      step: null,
      point: "display",
      origin: "probe",
      unitLabel: "°C",
      next: null,
    });
    expect(view.columns.at).toHaveLength(12);
    expect(view.columns.at[0]).toBe(NOW - HOUR);
    expect(view.columns.mean.slice(0, 4)).toEqual([25, 25.1, 25.2, 25.3]);
  });

  test("more readings than points come as 15 minute rollups, then 3 hours, then days; never more columns than asked", async () => {
    const stream = await fill(1_000, MINUTE);
    const floor = (width: number) => NOW - (NOW % width);
    const midnight = Date.UTC(2026, 2, 2);
    await world.evaluated({
      rollups: [
        ...Array.from({ length: 40 }, (_, i) =>
          rollup(stream, 15 * MINUTE, floor(15 * MINUTE) - i * 15 * MINUTE, [25, 26]),
        ),
        ...Array.from({ length: 40 }, (_, i) =>
          rollup(stream, 3 * HOUR, floor(3 * HOUR) - i * 3 * HOUR, [24, 27]),
        ),
        ...Array.from({ length: 40 }, (_, i) => rollup(stream, DAY, midnight - i * DAY, [23, 28])),
      ],
    });
    const over = async (range: number, points: number) => {
      const view = await readSeries(world.read, "reef", {
        quantity: "temperature",
        from: NOW - range,
        to: NOW,
        points,
      });
      expect(view.columns.at.length).toBeLessThanOrEqual(points);
      return view;
    };
    expect(await over(5 * HOUR, 50)).toMatchObject({ resolution: "15min", step: 15 * MINUTE });
    expect(await over(4 * DAY, 50)).toMatchObject({ resolution: "3h", step: 3 * HOUR });
    expect(await over(30 * DAY, 50)).toMatchObject({ resolution: "day", step: DAY });
    const joined = await over(30 * DAY, 10);
    expect(joined).toMatchObject({ resolution: "day", step: 4 * DAY });
    expect(joined.columns.n.reduce((a, b) => a + b, 0)).toBe(2 * 31);
    expect(joined.columns.min[0]).toBe(23);
    expect(joined.columns.mean[0]).toBe(25.5);
  });

  test("raw is paged: `next` continues where the page ended, without a reading lost or doubled", async () => {
    await fill(100_050, SECONDS);
    const from = NOW - 100_050 * SECONDS;
    const first = await readSeries(world.read, "reef", {
      quantity: "temperature",
      from,
      to: NOW,
      resolution: "raw",
    });
    expect(first.columns.at).toHaveLength(100_000);
    expect(first.next).toBe((first.columns.at.at(-1) ?? 0) + SECONDS);
    const second = await readSeries(world.read, "reef", {
      quantity: "temperature",
      from: first.next ?? 0,
      to: NOW,
      resolution: "raw",
    });
    expect(second.columns.at).toHaveLength(50);
    expect(second.next).toBeNull();
  });

  test("a resolution that would need too many columns is refused", async () => {
    await fill(2, MINUTE);
    const query = { quantity: "temperature", from: NOW - 3_650 * DAY, to: NOW, resolution: "15min" } as const;
    await expect(readSeries(world.read, "reef", query)).rejects.toMatchObject({
      code: "invalid",
      issues: [{ field: "resolution" }],
    });
  });

  test("a week of a derived quantity carries the widest interval of each column, as it grows with the age of a result", async () => {
    const nh3 = await world.stream("reef", "display", "unionised_ammonia", "derived");
    const first = NOW - 7 * DAY;
    const derived = Array.from({ length: 2_016 }, (_, i) => ({
      stream: nh3.id,
      at: first + i * 5 * MINUTE,
      value: 0.002,
      low: 0.0015 - i * 4e-7,
      high: 0.0025 + i * 1e-6,
      formula: "f",
    }));
    const rollups = Array.from({ length: 7 * 96 }, (_, i) =>
      rollup(nh3, 15 * MINUTE, first + i * 15 * MINUTE, [0.002, 0.002]),
    );
    await world.evaluated({ derived, rollups });
    const view = await readSeries(world.read, "reef", { quantity: "unionised_ammonia", from: first });
    expect(view.resolution).toBe("15min");
    const { low = [], high = [], at } = view.columns;
    expect([low.length, high.length]).toEqual([at.length, at.length]);
    expect(at.length).toBeGreaterThan(600);
    expect(low[0]).toBeCloseTo(0.0015 - 2 * 4e-7, 10);
    expect(high[0]).toBeCloseTo(0.0025 + 2e-6, 10);
    const widths = high.map((top, i) => (top ?? 0) - (low[i] ?? 0));
    expect(widths).toEqual([...widths].sort((a, b) => a - b));
    expect(widths.at(-1)).toBeGreaterThan(3 * (widths[0] ?? 1));
  });

  test("derived values carry their interval, bench results their qualifier", async () => {
    const nh3 = await world.stream("reef", "display", "unionised_ammonia", "derived");
    await world.evaluated({
      derived: [{ stream: nh3.id, at: NOW - HOUR, value: 0.002, low: 0.001, high: 0.004, formula: "f" }],
    });
    const derived = await readSeries(world.read, "reef", { quantity: "unionised_ammonia" });
    expect(derived.origin).toBe("derived");
    expect(derived.columns).toMatchObject({ mean: [0.002], low: [0.001], high: [0.004] });

    const nitrite = await world.stream("reef", "display", "nitrite", "bench");
    const result = {
      id: "r1",
      stream: nitrite.id,
      quantity: "nitrite",
      typed: "0.02",
      qualifier: "<" as const,
      unitTyped: "mg/L",
      value: 0.02,
      method: null,
      replicate: 1,
      supersedes: null,
      reason: null,
      answer: null,
      asked: null,
    };
    await world.store.recordBench(
      {
        id: "t1",
        clientId: "c1",
        system: "s-reef",
        point: "p-reef-display",
        sampledAt: NOW - HOUR,
        enteredAt: NOW,
        analyst: "keeper",
        note: null,
        results: [result],
      },
      NOW,
    );
    const bench = await readSeries(world.read, "reef", { quantity: "nitrite", origin: "bench" });
    expect(bench.columns).toMatchObject({ mean: [0.02], qualifier: ["<"] });
  });
});

const SECONDS = 1_000;

describe("bands over the range", () => {
  test("a band that changed is two steps that meet", async () => {
    await world.stream("reef", "display", "temperature");
    const later = { ...band("reef"), id: "b-2", months: [{ ...BAND, high: 26 }], validFrom: NOW - 2 * HOUR };
    await world.store.writeSetUp({ bands: [later] }, [{ system: "s-reef", from: NOW - 2 * HOUR }], NOW);
    const { bands } = await readSeries(world.read, "reef", {
      quantity: "temperature",
      from: NOW - DAY,
      to: NOW,
    });
    expect(bands.map((step) => [step.from, step.to, step.edges.high])).toEqual([
      [NOW - DAY, NOW - 2 * HOUR, 27],
      [NOW - 2 * HOUR, NOW, 26],
    ]);
  });

  test("monthly edges are steps that run from mid-month to mid-month, a bounded number of them", async () => {
    await world.stream("reef", "display", "ph");
    const months = Array.from({ length: 12 }, (_, month) => ({ ...BAND, low: 7, high: 8 + month / 10 }));
    await world.store.writeSetUp(
      { bands: [band("reef", { id: "b-ph", quantity: "ph", months })] },
      [{ system: "s-reef", from: NOW }],
      NOW,
    );
    const from = Date.UTC(2026, 0, 15);
    const to = Date.UTC(2026, 1, 15);
    const { bands } = await readSeries(world.read, "reef", { quantity: "ph", from, to });
    expect(bands).toHaveLength(31);
    expect(bands[0]?.edges.high).toBeCloseTo(8 + (0.1 * 0.5) / 31, 9);
    expect(bands.at(-1)?.edges.high).toBeCloseTo(8.1 - (0.1 * 0.5) / 31, 9);
    const years = await readSeries(world.read, "reef", { quantity: "ph", from: NOW - 400 * DAY, to: NOW });
    expect(years.bands.length).toBeLessThanOrEqual(201);
  });
});

describe("refusals", () => {
  test.each([
    ["a range that ends before it begins", { from: NOW, to: NOW - 1 }, "from"],
    ["a range of more than 20 years", { from: NOW - 21 * 366 * DAY, to: NOW }, "from"],
  ])("%s", async (_claim, range, field) => {
    await world.stream("reef", "display", "temperature");
    await expect(readSeries(world.read, "reef", { quantity: "temperature", ...range })).rejects.toMatchObject(
      {
        code: "invalid",
        issues: [{ field, remedy: expect.any(String) }],
      },
    );
  });

  test("a quantity nobody measures here names those that are", async () => {
    await world.stream("reef", "display", "temperature");
    await expect(readSeries(world.read, "reef", { quantity: "ph" })).rejects.toMatchObject({
      code: "not_found",
      message: "reef has no probe stream of ph. It has temperature at display (probe).",
    });
  });

  test("several points and none named: the display, or else a question", async () => {
    await world.stream("reef", "sump", "temperature");
    await world.stream("reef", "display", "temperature");
    expect((await readSeries(world.read, "reef", { quantity: "temperature" })).point).toBe("display");
    expect((await readSeries(world.read, "reef", { quantity: "temperature", point: "sump" })).point).toBe(
      "sump",
    );
  });
});

test("readings that were set aside come with their reasons; nothing is said where all passed", async () => {
  const stream = await fill(12, 5 * MINUTE);
  const asked = { quantity: "temperature", from: NOW - HOUR };
  expect(seriesView.parse(await readSeries(world.read, "reef", asked)).flagged).toBeUndefined();
  const at = NOW - 30 * MINUTE;
  await world.evaluated({ flags: [{ stream: stream.id, at, flag: 3, reasons: ["out_of_plausible_span"] }] });
  expect(seriesView.parse(await readSeries(world.read, "reef", asked)).flagged).toEqual([
    { at, flag: 3, reasons: ["out_of_plausible_span"] },
  ]);
});
