import { describe, expect, test } from "vitest";
import {
  addDifference,
  type BenchCheck,
  type CheckRule,
  checkRule,
  differenceOf,
  emptyCheck,
  isDrifting,
  limitAfter,
  noticedAt,
  scatterOf,
} from "#core/probes/bench-check.ts";

/** A generator of our own, so that the runs are the same each time (mulberry32). */
function randoms(seed: number): () => number {
  let a = seed;
  return () => {
    a = (a + 0x6d2b79f5) | 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
}
const normals = (random: () => number) => () =>
  Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());

const statistical: CheckRule = { sigma: 1, matters: 0, isPercent: false, fromFirst: false };
const chartAfter = (differences: readonly number[], check: CheckRule): BenchCheck =>
  differences.reduce((state, d, i) => addDifference(state, check, d, i), emptyCheck(-1));

// Source: Lucas & Saccucci 1990: EWMA with lambda 0.2, L 2.859 has an in-control run length of 370 at fixed limits.
test("at fixed limits the chart runs 370 tests between false alarms", () => {
  const random = normals(randoms(7));
  const limit = limitAfter(1_000, 1);
  let total = 0;
  const runs = 4_000;
  for (let run = 0; run < runs; run++) {
    let state = emptyCheck(-1);
    do state = addDifference(state, statistical, random(), 0);
    while (Math.abs(state.ewma) <= limit);
    total += state.n;
  }
  expect(total / runs).toBeGreaterThan(370 * 0.95);
  expect(total / runs).toBeLessThan(370 * 1.05);
});

// Held against a simulation in this test: no published figure.
describe("what a check can see is what simulated drifts show", () => {
  test.each([
    [0.05, 7],
    [0.05, 3.5],
    [0.1, 7],
    [0.03, 7],
  ])("scatter %d, a test every %d days", (sigma, days) => {
    const perDay = 0.097 / 30;
    const check = { ...statistical, sigma };
    const said = noticedAt(check, sigma, perDay, days);
    const random = normals(randoms(11));
    const tests: number[] = [];
    for (let run = 0; run < 2_000; run++) {
      let state = emptyCheck(-1);
      do state = addDifference(state, check, perDay * days * (state.n + 1) + sigma * random(), 0);
      while (Math.abs(state.ewma) <= limitAfter(state.n, sigma));
      tests.push(state.n);
    }
    tests.sort((a, b) => a - b);
    const usual = tests[1_000] as number;
    expect(Math.abs((said?.tests ?? 0) - usual)).toBeLessThanOrEqual(Math.max(1, 0.15 * usual));
  });
  test("weekly pH tests notice about a tenth, and a probe that never moves is never noticed", () => {
    const ph = checkRule("ph") as CheckRule;
    expect(noticedAt(ph, ph.sigma, 0.097 / 30, 7)?.moved).toBeCloseTo(0.11, 1);
    expect(noticedAt(ph, ph.sigma, 0, 7)).toBeNull();
  });
});

describe("a pH probe against daily bench tests", () => {
  const ph = checkRule("ph") as CheckRule;
  test("a drift of 0.045 a day is found within six tests", () => {
    const found = [1, 2, 3, 4, 5, 6].findIndex((n) =>
      isDrifting(
        chartAfter(
          Array.from({ length: n }, (_, i) => -0.045 * (i + 1)),
          ph,
        ),
        ph,
      ),
    );
    expect(found).toBeGreaterThan(0);
    expect(found).toBeLessThan(6);
  });
  test("a bench that scatters by 0.05 around the probe is no drift", () => {
    const random = normals(randoms(3));
    let state = emptyCheck(-1);
    let wrong = 0;
    for (let i = 0; i < 365; i++) {
      state = addDifference(state, ph, 0.05 * random(), i);
      if (isDrifting(state, ph)) wrong++;
    }
    expect(wrong).toBeLessThanOrEqual(4);
  });
  test("a difference that nobody would act on is no drift, however sure", () => {
    const small = Array.from({ length: 60 }, () => 0.05);
    expect(isDrifting(chartAfter(small, ph), ph)).toBe(false);
  });
  test("the scatter is told by ten pairs, and a drift inside them does not widen it", () => {
    const steady = Array.from({ length: 10 }, (_, i) => (i % 2 === 0 ? 0.05 : -0.05));
    expect(scatterOf(chartAfter(steady.slice(0, 9), ph), ph)).toBe(ph.sigma);
    // Nine ranges of 0.1 over d2 = 1.128.
    expect(scatterOf(chartAfter(steady, ph), ph)).toBeCloseTo(0.1 / 1.128, 9);
    const drifting = Array.from({ length: 10 }, (_, i) => -0.02 * i);
    expect(scatterOf(chartAfter(drifting, ph), ph)).toBe(ph.sigma / 2);
  });
});

test("two ORP probes are held against what they differed by at first", () => {
  const orp = checkRule("orp") as CheckRule;
  expect(isDrifting(chartAfter([40, 42, 38, 41, 39, 40], orp), orp)).toBe(false);
  expect(isDrifting(chartAfter([40, 42, 38, 80, 90, 100, 110], orp), orp)).toBe(true);
});
test("conductivity is compared in percent", () => {
  const ec = checkRule("specific_conductance") as CheckRule;
  expect(differenceOf(ec, 330, 340)).toBeCloseTo(-2.941, 3);
  expect(checkRule("flow")).toBeNull();
});
