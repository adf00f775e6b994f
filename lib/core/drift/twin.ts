/**
 * Two probes in the same water: has one of them moved against the other? A cumulative sum of six-hour medians of their difference,
 * against the first five days. Which of the two moved, only a third opinion (a bench test) can say.
 */

import { median, robustScale } from "../statistics/robust.ts";
import { type Cusum, cusumStep } from "./control-chart.ts";

export interface Twin {
  /** The last hours' medians of the two, to be compared when both are known. */
  readonly hour: number;
  readonly gathered: readonly number[];
  readonly learnt: readonly number[];
  readonly recent: readonly number[];
  readonly usual: number;
  readonly scale: number;
  readonly sums: Cusum;
}
export const emptyTwin: Twin = {
  hour: -1,
  gathered: [],
  learnt: [],
  recent: [],
  usual: 0,
  scale: 0,
  sums: { high: 0, low: 0 },
};

const HOURS = 6;
const LEARNING = 20;
const K = 0.5;
/** One false call in a year of six-hour medians of independent normal differences: `cusumLimit(0.5, 1460)`. */
export const TWIN_LIMIT = 6.15;
const CLIP = 6;
/** The scale is never below this share of the practical change: coarse digits have no spread at all. */
const FLOOR = 0.25;
const SETTLED = 2;

/** A sum is not carried far past its limit: when the two agree again, that is seen within days. */
const capped = (sums: Cusum): Cusum => ({
  high: Math.min(sums.high, 2 * TWIN_LIMIT),
  low: Math.min(sums.low, 2 * TWIN_LIMIT),
});

export interface TwinVerdict {
  readonly difference: number;
  readonly usual: number;
  readonly isApart: boolean;
}

/** Take the difference of one hour (own minus the other's, in the quantity's unit). The verdict is null between six-hour medians and while learning. */
export function takeDifference(
  twin: Twin,
  hour: number,
  difference: number,
  floor: number,
): { readonly twin: Twin; readonly verdict: TwinVerdict | null } {
  const gathered = [...twin.gathered, difference];
  if (gathered.length < HOURS) return { twin: { ...twin, hour, gathered }, verdict: null };
  const middle = median(gathered);
  if (twin.learnt.length < LEARNING) {
    const learnt = [...twin.learnt, middle];
    const [usual, scale] = [median(learnt), robustScale(learnt, FLOOR * floor)];
    return { twin: { ...twin, hour, gathered: [], learnt, usual, scale }, verdict: null };
  }
  const z = Math.max(-CLIP, Math.min(CLIP, (middle - twin.usual) / twin.scale));
  const sums = cusumStep(twin.sums, z, K);
  const recent = [...twin.recent, middle].slice(-SETTLED);
  const by = median(recent) - twin.usual;
  const isApart = Math.max(sums.high, sums.low) > TWIN_LIMIT && Math.abs(by) > floor;
  return {
    twin: { ...twin, hour, gathered: [], recent, sums: capped(sums) },
    verdict: { difference: by, usual: twin.usual, isApart },
  };
}
