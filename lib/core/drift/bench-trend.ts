/**
 * Do the results of a bench test show a trend: Mann-Kendall with Theil-Sen on the last six and the last twelve. A trend needs both, a test
 * that proves it and a change beyond what two tests of the same water may differ by (the repeatability limit, 2.8 standard deviations: ISO 5725-6).
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
    const change = slope * days;
    const threshold = REPEATABILITY_LIMIT * practical(repeats.sd, repeats.share, newest[1]);
    if (Math.abs(change) > threshold) return { change, days, tests: last.length, threshold, from: first[0] };
  }
  return null;
}
