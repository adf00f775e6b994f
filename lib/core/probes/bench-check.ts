/**
 * Probe against bench since the last calibration: an EWMA of the differences with the limits of its start. Lambda 0.2 and L 2.859 give 370
 * tests between false alarms (Lucas & Saccucci 1990, Technometrics 32:1). A probe is called drifting when the chart is past its limit *and*
 * the mean difference past what a keeper would act on.
 */
import { mean } from "../statistics/mean.ts";
import type { Instant } from "../time/instant.ts";
import { type Practice, practiceOf } from "../units/quantity.ts";

const LAMBDA = 0.2;
const WIDTH = 2.859;
/** So many pairs from a calibration on tell how the two methods scatter. */
const TELLING = 10;
/** Moving ranges of two to a standard deviation: d2 for n = 2, e.g. Montgomery, Introduction to Statistical Quality Control. */
const D2 = 1.128;

/** How a probe is compared with the bench; after the accuracy of probes and bench methods of each kind. */
export type CheckRule = NonNullable<Practice["check"]>;

/** How a quantity's probe is compared with the bench; null where it is not. */
export const checkRule = (id: string): CheckRule | null => practiceOf(id)?.check ?? null;

/** Plain data: part of the evaluator's state. Replaced, never changed in place. */
export interface BenchCheck {
  /** The calibration it counts from; -1 where there was none. */
  readonly since: Instant;
  readonly n: number;
  readonly ewma: number;
  readonly centre: number;
  /** The first differences, as long as they tell the scatter. */
  readonly first: readonly number[];
  readonly last: number;
  readonly lastAt: Instant;
}
export const emptyCheck = (since: Instant): BenchCheck => ({
  since,
  n: 0,
  ewma: 0,
  centre: 0,
  first: [],
  last: 0,
  lastAt: -1,
});

/** Pairs that settle where a chart that begins with their difference is centred. */
const SETTLING = 3;

/** The difference that the chart takes: probe minus bench, or its percentage. */
export const differenceOf = (check: CheckRule, probe: number, bench: number): number =>
  check.isPercent ? (100 * (probe - bench)) / Math.abs(bench) : probe - bench;

/** The chart after one more difference. */
export function addDifference(
  before: BenchCheck,
  check: CheckRule,
  difference: number,
  at: Instant,
): BenchCheck {
  const n = before.n + 1;
  const first = before.first.length < TELLING ? [...before.first, difference] : before.first;
  const common = { since: before.since, n, first, last: difference, lastAt: at };
  if (check.fromFirst && n <= SETTLING) return { ...common, ewma: 0, centre: mean(first) };
  return {
    ...common,
    centre: before.centre,
    ewma: LAMBDA * (difference - before.centre) + (1 - LAMBDA) * before.ewma,
  };
}

/** Scatter of one difference: as the rule has it until ten pairs, then from their moving ranges (a drift inside them does not widen it), at least half of that. */
export function scatterOf(state: BenchCheck, check: CheckRule): number {
  if (state.first.length < TELLING) return check.sigma;
  let sum = 0;
  for (let i = 1; i < TELLING; i++)
    sum += Math.abs((state.first[i] as number) - (state.first[i - 1] as number));
  return Math.max(check.sigma / 2, sum / (TELLING - 1) / D2);
}

/** The limit of the EWMA after n differences with a scatter of `sigma`. */
export const limitAfter = (n: number, sigma: number): number =>
  WIDTH * sigma * Math.sqrt((LAMBDA / (2 - LAMBDA)) * (1 - (1 - LAMBDA) ** (2 * n)));

/** Whether the chart says that the probe has moved against the bench. */
export function isDrifting(state: BenchCheck, check: CheckRule): boolean {
  const size = Math.abs(state.ewma);
  return state.n > 0 && size >= check.matters && size > limitAfter(state.n, scatterOf(state, check));
}

/**
 * What tests this often can see: the steady drift of `perDay` (the chart's unit a day) has moved the probe by `moved` after `tests` tests
 * when the chart's mean course passes limit and practical part. Null where it would take more than a thousand tests.
 */
export function noticedAt(
  check: CheckRule,
  sigma: number,
  perDay: number,
  daysBetween: number,
): { readonly tests: number; readonly moved: number } | null {
  let ewma = 0;
  for (let n = 1; n <= 1_000; n++) {
    const moved = perDay * daysBetween * n;
    ewma = LAMBDA * moved + (1 - LAMBDA) * ewma;
    if (ewma >= check.matters && ewma > limitAfter(n, sigma)) return { tests: n, moved };
  }
  return null;
}
