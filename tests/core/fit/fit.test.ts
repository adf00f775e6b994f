import { describe, expect, it } from "vitest";
import {
  addTallies,
  fitOf,
  largestGaps,
  type MonthEdges,
  monthHalves,
  quartersIn,
  siteMonths,
  stretchesOf,
  tallyOf,
} from "#core/fit/index.ts";
import { edgesAt, NO_EDGES } from "#core/habitat/index.ts";
import { QUARTER_HOUR, type RollupRow } from "#core/quality/rollup.ts";
import { HOUR } from "#core/time/instant.ts";

const ZONE = "Europe/London";
const HALVES = monthHalves(2026, ZONE);
const row = (start: number, mean: number, good = 3): RollupRow => ({
  stream: 1,
  width: QUARTER_HOUR,
  start,
  n: 3,
  good,
  min: mean,
  max: mean,
  sum: mean * good,
  first: mean,
  last: mean,
});
const yearRound = (low: number | null, high: number | null): MonthEdges[] =>
  Array.from({ length: 12 }, () => ({ low, high }));

describe("months at a site", () => {
  it("have 31 days and an hour in October, an hour less in March, where clocks change", () => {
    const months = siteMonths(2026, ZONE);
    const hours = (i: number) => ((months[i]?.to ?? 0) - (months[i]?.from ?? 0)) / HOUR;
    expect(hours(9)).toBe(31 * 24 + 1);
    expect(hours(2)).toBe(31 * 24 - 1);
    expect(months[6]?.from).toBe(Date.UTC(2026, 5, 30, 23));
    expect(months.slice(1).every((month, i) => month.from === months[i]?.to)).toBe(true);
  });
});

describe("stretches", () => {
  const [, , , , , , , , , october] = siteMonths(2026, ZONE);
  const [from, to] = [october?.from ?? 0, october?.to ?? 0];
  it("cut a month at its 15th and cover it whole", () => {
    const stretches = stretchesOf(1, yearRound(14, 16), HALVES, from, to);
    expect(stretches).toHaveLength(2);
    expect(quartersIn(stretches)).toBe((to - from) / QUARTER_HOUR);
    expect(stretches[0]?.to).toBe(Date.UTC(2026, 9, 14, 23));
  });
  it("leave out the halves beside a month without a range, and one whose range is empty", () => {
    const noSeptember = yearRound(14, 16).map((month, i) => (i === 8 ? null : month));
    const half = stretchesOf(1, noSeptember, HALVES, from, to);
    expect(half.map((stretch) => stretch.from)).toEqual([Date.UTC(2026, 9, 14, 23)]);
    const crossed = yearRound(14, 16).map((month, i) => (i === 10 ? { low: 15, high: 12 } : month));
    expect(stretchesOf(1, crossed, HALVES, from, to)).toHaveLength(1);
    expect(stretchesOf(1, yearRound(null, null), HALVES, from, to)).toEqual([]);
  });
  it("hold a mean against the same slope as a target band's edges", () => {
    const months = Array.from({ length: 12 }, (_, i) => ({ low: 10 + i, high: 12 + i * 1.5 }));
    const at = Date.UTC(2026, 9, 21, 7, 30);
    const edges = edgesAt(
      months.map((month) => ({ ...NO_EDGES, ...month })),
      at + QUARTER_HOUR / 2,
      ZONE,
    );
    const stretches = stretchesOf(1, months, HALVES, from, to);
    const count = (mean: number) => addTallies(stretches.map((stretch) => tallyOf(stretch, [row(at, mean)])));
    expect(count((edges.high ?? 0) + 1e-9)).toMatchObject({ n: 1, above: 1 });
    expect(count((edges.high ?? 0) - 1e-9)).toMatchObject({ n: 1, above: 0 });
    expect(count((edges.low ?? 0) - 1e-9)).toMatchObject({ n: 1, below: 1 });
    expect(count((edges.low ?? 0) + 1e-9)).toMatchObject({ n: 1, below: 0 });
  });
});

describe("a fit", () => {
  it("is three of four means inside 14 to 16, missing by +0.4, 0.4 half widths, with one quarter hour unread", () => {
    const start = Date.UTC(2026, 9, 20);
    const stretches = stretchesOf(1, yearRound(14, 16), HALVES, start, start + 6 * QUARTER_HOUR);
    const rows = [14, 15, 16, 16.4].map((mean, i) => row(start + i * QUARTER_HOUR, mean));
    const tally = tallyOf(stretches[0] as (typeof stretches)[0], [
      ...rows,
      row(start + 4 * QUARTER_HOUR, 99, 0),
    ]);
    const fit = fitOf(tally, quartersIn(stretches));
    expect(fit).toMatchObject({ scored: 4, possible: 6, share: 0.75 });
    expect(fit.typicalMiss).toBeCloseTo(0.4, 6);
    expect(fit.typicalDeviation).toBeCloseTo(0.4, 6);
    expect(fit.widestMiss).toBeCloseTo(0.4, 9);
  });
  it("names the side that missed more often, and has nothing to say where nothing was read", () => {
    const start = Date.UTC(2026, 9, 20);
    const [stretch] = stretchesOf(1, yearRound(14, 16), HALVES, start, start + HOUR);
    const rows = [13.9, 13.7, 18].map((mean, i) => row(start + i * QUARTER_HOUR, mean));
    const fit = fitOf(tallyOf(stretch as NonNullable<typeof stretch>, rows), 4);
    expect(fit.typicalMiss).toBeCloseTo(-0.2, 6);
    expect(fit.widestMiss).toBeCloseTo(2, 9);
    expect(fitOf(tallyOf(stretch as NonNullable<typeof stretch>, []), 4)).toEqual({
      scored: 0,
      possible: 4,
      share: null,
      typicalMiss: null,
      typicalDeviation: null,
      widestMiss: null,
    });
  });
  it("ranks gaps by how often and how far, and leaves out what is well", () => {
    const gap = (month: number, share: number | null, typicalDeviation: number) => ({
      ...fitOf(addTallies([]), 1),
      quantity: "temperature",
      against: "x",
      month,
      share,
      typicalDeviation,
    });
    const gaps = largestGaps(
      [gap(1, 0.9, 0.1), gap(2, 0.5, 0.4), gap(3, 0.97, 9), gap(4, 0.8, 2), gap(5, null, 0)],
      2,
    );
    expect(gaps.map((gap) => gap.month)).toEqual([4, 2]);
  });
});
