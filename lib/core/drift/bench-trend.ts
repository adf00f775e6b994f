/**
 * Do the results of a bench test show a trend: Mann-Kendall with Theil-Sen on the last six and the last twelve. A trend needs both, a test
 * that proves it and a change beyond what two tests of the same water may differ by (the repeatability limit, 2.8 standard deviations: ISO 5725-6).
 * A run of five and more without a break needs no such change where it leads to a limit: that limit is one of a single difference, and five results
 * of steady water are in rising order once in 120 times.
 */
import { DAY, type Instant } from "../time/instant.ts";
import { practiceOf } from "../units/quantity.ts";
import { practical } from "./course-limits.ts";
import { mannKendall, theilSen } from "./trend.ts";

/** Standard deviation of repeated tests of the same water: in the quantity's unit, and as a share of the result where that is more. */
export interface Repeatability {
  readonly sd: number;
  readonly share: number;
}
/** How alike repeated tests of a quantity are; null where its results are not checked for a trend. */
export function repeatability(id: string): Repeatability | null {
  const repeats = practiceOf(id)?.repeats;
  return repeats ? { sd: repeats[0], share: repeats[1] } : null;
}

/** A result, in the quantity's unit; "below 0.02" stands as 0.02, so that several of them are ties. */
export type TestResult = readonly [at: Instant, value: number];

const WINDOWS = [6, 12] as const;
const MOST = 12;
const LEAST = 5;
/** Older results say nothing of now. */
const OLDEST = 92 * DAY;
const SIGNIFICANT = 0.05;
const REPEATABILITY_LIMIT = 2.8;

export interface TestTrend {
  /** By how much, over the tests that show it. */
  readonly change: number;
  readonly days: number;
  readonly tests: number;
  readonly threshold: number;
  /** The first of those tests. */
  readonly from: Instant;
}

/** The results with a new one, later than all of them; at most twelve of the last three months. */
export const withResult = (results: readonly TestResult[], at: Instant, value: number): TestResult[] =>
  [...results.filter(([when]) => at - when <= OLDEST), [at, value] as const].slice(-MOST);

/** The trend that the last six results prove, or else the last twelve; null where neither does, and with fewer than five. */
export function testTrend(results: readonly TestResult[], repeats: Repeatability): TestTrend | null {
  for (const window of WINDOWS) {
    const last = results.slice(-window);
    const [first, newest] = [last[0], last.at(-1)];
    if (last.length < LEAST || !first || !newest) continue;
    const values = last.map(([, value]) => value);
    const days = (newest[0] - first[0]) / DAY;
    const slope = theilSen(
      last.map(([at]) => (at - first[0]) / DAY),
      values,
      0.9,
    )?.slope;
    if (slope === undefined || mannKendall(values).p >= SIGNIFICANT) continue;
    const threshold = REPEATABILITY_LIMIT * practical(repeats.sd, repeats.share, newest[1]);
    const change = asSeen(slope * days, values);
    if (Math.abs(change) > threshold && !hasTurned(values, change, threshold))
      return { change, days, tests: last.length, threshold, from: first[0] };
  }
  return null;
}

/** Tests that are not evenly spread let a slope promise more than any two of them differ by: no more than was seen. */
function asSeen(change: number, values: readonly number[]): number {
  const most = Math.max(...values) - Math.min(...values);
  return Math.sign(change) * Math.min(Math.abs(change), most);
}

/**
 * What went up comes down again: the newest result is back by more than half of the change, or by more than two tests of the same water may
 * differ by.
 */
function hasTurned(values: readonly number[], change: number, threshold: number): boolean {
  const side = Math.sign(change);
  const furthest = Math.max(...values.map((value) => side * value));
  return furthest - side * (values.at(-1) as number) > Math.min(threshold, Math.abs(change) / 2);
}

/** How fast results go, units a day with the 90 % interval of the slope, and when they reach a limit. */
export interface TestCourse {
  readonly perDay: number;
  readonly slowest: number;
  readonly fastest: number;
  readonly goal: number;
  readonly earliest: Instant;
  /** Null where the slowest never gets there. */
  readonly latest: Instant | null;
}
export interface TestRun extends TestTrend, TestCourse {}

/** A limit is news where a run reaches it within the time that it has gone on, and within so long. Our own. */
const AHEAD = 28 * DAY;

/** How these results go on to a limit on the side they go to; null where they do not, or none is set there. */
export function testCourse(
  results: readonly TestResult[],
  limitOn: (side: 1 | -1) => number | null,
): TestCourse | null {
  const [first, newest] = [results[0], results.at(-1)];
  if (!first || !newest) return null;
  const fit = theilSen(
    results.map(([at]) => (at - first[0]) / DAY),
    results.map(([, value]) => value),
    0.9,
  );
  if (!fit || fit.slope === 0) return null;
  const side = fit.slope > 0 ? 1 : -1;
  const goal = limitOn(side);
  if (goal === null || side * (goal - newest[1]) <= 0) return null;
  const [slowest, fastest] = side > 0 ? [fit.low, fit.high] : [-fit.high, -fit.low];
  const inDays = (speed: number) => newest[0] + (side * (goal - newest[1]) * DAY) / speed;
  return {
    perDay: fit.slope,
    slowest,
    fastest,
    goal,
    earliest: inDays(fastest),
    latest: slowest > 0 ? inDays(slowest) : null,
  };
}

/** The results since the last break that go one way only, oldest first. */
function unbroken(results: readonly TestResult[]): readonly TestResult[] {
  const values = results.map(([, value]) => value);
  let i = values.length - 1;
  const side = Math.sign((values[i] ?? 0) - (values[i - 1] ?? 0));
  while (side !== 0 && i > 0 && Math.sign((values[i] as number) - (values[i - 1] as number)) === side) i--;
  return results.slice(i);
}

/** A run of five and more results without a break that reaches a limit soon; null where there is none. */
export function testRun(
  results: readonly TestResult[],
  limitOn: (side: 1 | -1) => number | null,
): TestRun | null {
  const run = unbroken(results);
  const [first, newest] = [run[0], run.at(-1)];
  if (run.length < LEAST || !first || !newest) return null;
  const course = testCourse(run, limitOn);
  const span = newest[0] - first[0];
  if (!course || course.earliest - newest[0] > Math.min(AHEAD, span)) return null;
  const change = newest[1] - first[1];
  return { ...course, change, days: span / DAY, tests: run.length, threshold: 0, from: first[0] };
}
