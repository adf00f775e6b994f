import { describe, expect, test } from "vitest";
import { repeatability, type TestResult, testRun, testTrend, withResult } from "#core/drift/bench-trend.ts";
import { steadyRandom } from "#tests/bench/bench-row.ts";

// A trend is proven by Mann-Kendall (p < 0.05; Mann 1945, Kendall 1975) and larger than the repeatability limit (2.8 standard deviations: ISO 5725-6).
const DAY = 86_400_000;
const ALKALINITY = repeatability("alkalinity");
if (!ALKALINITY) throw new Error("alkalinity is held against a trend");
const repeats = ALKALINITY;

const results = (values: readonly number[]): TestResult[] =>
  values.reduce<TestResult[]>((all, value, i) => withResult(all, i * DAY, value), []);
const trendOf = (...values: number[]) => testTrend(results(values), repeats);

describe("bench results", () => {
  test("of five days that fall by 0.08 meq/L a day prove it, four do not", () => {
    expect(trendOf(2.9, 2.82, 2.74, 2.66)).toBeNull();
    const trend = trendOf(2.9, 2.82, 2.74, 2.66, 2.58);
    expect(trend).toMatchObject({ tests: 5, days: 4, from: 0 });
    expect(trend?.change).toBeCloseTo(-0.32, 10);
  });

  test("that go down within what two tests of the same water may differ by prove nothing", () => {
    expect(trendOf(2.9, 2.88, 2.86, 2.84, 2.82, 2.8)).toBeNull();
    expect(trendOf(2.9, 2.87, 2.84, 2.81, 2.78, 2.75)?.tests).toBe(6);
  });

  test("a wild result among them does not hide it, and one alone does not make it", () => {
    expect(trendOf(2.9, 2.82, 3.4, 2.74, 2.66, 2.58, 2.5, 2.42)).not.toBeNull();
    expect(trendOf(2.5, 2.5, 2.5, 2.5, 2.5, 3.4)).toBeNull();
  });

  test("a slow trend that six do not show is shown by twelve", () => {
    const slow = Array.from({ length: 12 }, (_, i) => 2.9 - 0.02 * i + (i % 2 === 0 ? 0.03 : -0.03));
    expect(testTrend(results(slow.slice(-6)), repeats)).toBeNull();
    expect(testTrend(results(slow), repeats)).toMatchObject({ tests: 12, days: 11 });
  });

  test("of steady water call in fewer than one in a hundred tests", () => {
    const next = steadyRandom(4);
    const noise = () => repeats.sd * 2 * (next() + next() + next() - 1.5);
    let [kept, calls]: [TestResult[], number] = [[], 0];
    for (let i = 0; i < 2000; i++) {
      kept = withResult(kept, i * DAY, 2.5 + noise());
      if (testTrend(kept, repeats)) calls++;
    }
    expect(calls).toBeLessThan(20);
  });

  test("older than three months are forgotten, and no more than twelve are kept", () => {
    expect(results(Array(40).fill(2.5))).toHaveLength(12);
    expect(withResult(results([2.9, 2.8]), 100 * DAY, 2.5)).toEqual([[100 * DAY, 2.5]]);
  });

  test("of a quantity whose repeatability is not known are not judged", () => {
    expect([repeatability("constructor"), repeatability("iodide")]).toEqual([null, null]);
  });
});

describe("a run without a break towards a limit", () => {
  const weekly = (values: readonly number[]): TestResult[] =>
    values.reduce<TestResult[]>((all, value, i) => withResult(all, 7 * i * DAY, value), []);
  const below = (limit: number) => (side: 1 | -1) => (side > 0 ? limit : null);

  test("of five weekly tests is told with its rate and the days between which the limit is reached", () => {
    const run = testRun(weekly([22, 26, 29, 33, 37]), below(50));
    expect(run).toMatchObject({ tests: 5, days: 28, change: 15, goal: 50 });
    // 13 left at 3.5 to 4 a week, by hand: 22.75 to 30.3 days.
    expect(run?.slowest).toBeGreaterThan(0.4);
    expect(run?.fastest).toBeLessThan(0.6);
    expect(((run?.earliest ?? 0) - 28 * DAY) / DAY).toBeGreaterThan(20);
    expect(((run?.latest ?? 0) - 28 * DAY) / DAY).toBeLessThan(32);
  });

  test("is none with four tests, with a break or a tie, away from the limit, or where the limit is far", () => {
    expect(testRun(weekly([26, 29, 33, 37]), below(50))).toBeNull();
    expect(testRun(weekly([22, 26, 25, 33, 37]), below(50))).toBeNull();
    expect(testRun(weekly([22, 26, 26, 33, 37]), below(50))).toBeNull();
    expect(testRun(weekly([37, 33, 29, 26, 22]), below(50))).toBeNull();
    expect(testRun(weekly([10, 11, 12, 13, 14]), below(50))).toBeNull();
  });

  test("of steady water read to the kit's digit calls in fewer than one in two hundred tests, four standard deviations below its limit", () => {
    const next = steadyRandom(11);
    let [kept, calls]: [TestResult[], number] = [[], 0];
    for (let i = 0; i < 4000; i++) {
      const exact = 2.5 + repeats.sd * 2 * (next() + next() + next() - 1.5);
      kept = withResult(kept, 7 * i * DAY, Number(exact.toFixed(2)));
      if (testRun(kept, (side) => 2.5 + side * 4 * repeats.sd)) calls++;
    }
    expect(calls).toBeLessThan(20);
  });
});

test("a trend that has turned is over: 0.90 came down to 0.42", () => {
  expect(trendOf(2.0, 2.2, 2.4, 2.6, 2.8, 3.0)).not.toBeNull();
  expect(trendOf(2.0, 2.2, 2.4, 2.6, 2.8, 3.0, 2.3)).toBeNull();
});

test("a trend that has come back by more than two tests may differ by is over, and no change is told that no two tests showed", () => {
  const total = { sd: 0.02, share: 0.05 };
  const at = (days: number, value: number): TestResult => [days * DAY, value];
  const up = [at(0, 0.02), at(1, 0.3), at(2, 0.55), at(3, 0.7), at(4, 0.82), at(12, 0.9)];
  const trend = testTrend(up, total);
  expect(trend?.change).toBeGreaterThan(0.5);
  expect(trend?.change).toBeLessThanOrEqual(0.88);
  expect(testTrend([...up.slice(1), at(13, 0.42)], total)).toBeNull();
});
