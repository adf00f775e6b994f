/** The generator: any instant alone, any split of a span, the cadences, late readings, the day of 25 hours. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { DAY, HOUR, MINUTE } from "#core/time/index.ts";
import { quantity } from "#core/units/index.ts";
import { anchorEndingYesterday, openClock } from "#ingest/scenario/clock.ts";
import { openScenario } from "#ingest/scenario/load.ts";
import { readingsBetween } from "#ingest/scenario/readings.ts";
import { compile, valueAt } from "#ingest/scenario/sampler.ts";
import { ANCHOR, anchorOn, clock, FOLDER, scenario, streamIndex, ZONE } from "./pennacombe.ts";

const span = (from: number, to: number) => [...readingsBetween(scenario, ANCHOR, from, to, "as-sampled")];

describe("repeatable", () => {
  test("an instant reads the same alone, again, and in a scenario opened anew and asked backwards", () => {
    const fresh = compile(openScenario(FOLDER), ANCHOR);
    const rows = span(clock.instantOf("D4 01:00"), clock.instantOf("D4 02:00"));
    expect(rows.length).toBeGreaterThan(3000);
    for (const row of rows.toReversed()) {
      expect(fresh.samples[row.stream]?.(row.at)).toBe(row.value);
      expect(valueAt(scenario, row.stream, row.at, ANCHOR)).toBe(row.value);
    }
  });

  test("a span may be split anywhere", () => {
    const from = clock.instantOf("D3 23:00");
    const to = from + 40 * MINUTE;
    const whole = span(from, to);
    fc.assert(
      fc.property(fc.array(fc.integer({ min: from, max: to }), { maxLength: 4 }), (cuts) => {
        const edges = [from, ...cuts.sort((a, b) => a - b), to];
        const parts = edges.slice(1).flatMap((end, i) => span(edges[i] as number, end));
        expect(parts).toEqual(whole);
      }),
      { numRuns: 25 },
    );
  });

  test("readings come in time order, each stream at most once an instant", () => {
    const seen = new Set<string>();
    let last = 0;
    for (const row of span(clock.instantOf("D11 06:00"), clock.instantOf("D11 10:00"))) {
      expect(row.at).toBeGreaterThanOrEqual(last);
      last = row.at;
      const key = `${row.stream} ${row.at}`;
      expect(seen.has(key)).toBe(false);
      seen.add(key);
    }
  });

  test("another anchor tells the same story on other dates", () => {
    const other = anchorOn("2026-05-04", ZONE);
    const index = streamIndex(scenario, "jelly-ring", "display", "total_gas_pressure");
    const peak = openClock(ZONE, other).instantOf("D12 18:00");
    expect(Math.abs((valueAt(scenario, index, peak, other) ?? 0) - 106.4)).toBeLessThan(0.2);
  });

  test("an unknown stream and an anchor off midnight are refused", () => {
    expect(() => valueAt(scenario, 9999, ANCHOR, ANCHOR)).toThrow(/no stream 9999/);
    expect(() => compile(scenario, ANCHOR + 60_000)).toThrow(/midnight/);
  });
});

describe("cadence", () => {
  test("as sampled, every number stream has its own interval for a whole day; states come at changes too", () => {
    const from = clock.instantOf("D1 00:00");
    const counts = new Map<number, number>();
    for (const row of span(from, from + DAY)) counts.set(row.stream, (counts.get(row.stream) ?? 0) + 1);
    scenario.streams.forEach((stream, index) => {
      const regular = DAY / 1000 / stream.intervalS;
      if (quantity(stream.quantity)?.kind === "number") expect(counts.get(index)).toBe(regular);
      else expect(counts.get(index)).toBeGreaterThanOrEqual(regular);
    });
    const flows = scenario.streams.filter((s) => s.quantity === "flow" || s.quantity === "level");
    expect(flows.every((s) => s.intervalS === 60)).toBe(true);
    const fast = scenario.streams.filter((s) => s.system === "pup-pool" && s.quantity === "temperature");
    expect(fast.map((s) => s.intervalS)).toEqual([60]);
  });

  test.each([
    ["five-minute", 5 * MINUTE],
    ["hourly", HOUR],
  ] as const)("%s thins every stream to its grid", (cadence, every) => {
    const from = ANCHOR - 3 * DAY;
    const index = streamIndex(scenario, "kelp-gallery", "display", "flow");
    const rows = [...readingsBetween(scenario, ANCHOR, from, from + DAY, cadence)];
    expect(rows.every((row) => row.at % every === 0)).toBe(true);
    expect(rows.filter((row) => row.stream === index).length).toBe(DAY / every);
  });

  test("a change of state is sent at its instant", () => {
    const index = streamIndex(scenario, "river-giants", "link-valve", "valve");
    const rows = span(clock.instantOf("D11 07:28"), clock.instantOf("D11 07:33")).filter(
      (r) => r.stream === index,
    );
    expect(rows.map((r) => [r.at, r.value])).toEqual([[clock.instantOf("D11 07:30"), 1]]);
  });
});

test("D5: the fill meter's readings of three hours arrive in one block, at their own times", () => {
  const index = streamIndex(scenario, "river-giants", "make-up", "make_up_volume");
  const rows = span(clock.instantOf("D5 08:30"), clock.instantOf("D5 12:30"));
  const late = rows.filter((row) => row.deliveredAt !== row.at);
  expect(new Set(late.map((row) => row.stream))).toEqual(new Set([index]));
  expect(new Set(late.map((row) => row.deliveredAt))).toEqual(new Set([clock.instantOf("D5 12:04")]));
  expect(late.length).toBe(36);
  expect(late[0]?.at).toBe(clock.instantOf("D5 09:00"));
});

describe("time", () => {
  test("D7 of the fixed dates has 25 hours and as many readings", () => {
    const from = clock.instantOf("D7 00:00");
    const to = clock.instantOf("D8 00:00");
    expect((to - from) / HOUR).toBe(25);
    const index = streamIndex(scenario, "kelp-gallery", "display", "temperature");
    expect(span(from, to).filter((row) => row.stream === index).length).toBe(25 * 12);
  });

  test("local clocks keep their hour on both sides of the change", () => {
    expect(clock.instantOf("D7 00:30") - clock.instantOf("D6 00:30")).toBe(DAY);
    expect(clock.instantOf("D7 12:00") - clock.instantOf("D6 12:00")).toBe(25 * HOUR);
    expect(clock.localOf(clock.instantOf("D8 06:15"))).toBe(7 * DAY + 6 * HOUR + 15 * MINUTE);
    expect(clock.localOf(clock.instantOf("D6 06:15"))).toBe(5 * DAY + 6 * HOUR + 15 * MINUTE);
  });

  test("the moving demo ends D14 at the midnight that starts today", () => {
    const now = Date.UTC(2026, 5, 20, 13, 5);
    const anchor = anchorEndingYesterday(now, ZONE);
    expect(new Date(openClock(ZONE, anchor).instantOf("D15 00:00")).toISOString()).toBe(
      "2026-06-19T23:00:00.000Z",
    );
  });
});
