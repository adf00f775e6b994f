/**
 * Two probes at one place: a CUSUM (Page 1954) on the daily median of their difference, k 0.5 and h 5, against the first five days after a
 * calibration. It says that one of them moved, never which: a bench test or a third probe decides.
 */

import { median, robustScale } from "../statistics/robust.ts";
import type { Instant } from "../time/instant.ts";

const K = 0.5;
const H = 5;
const LEARNING_DAYS = 5;
/** One wild day must not trip the sum: no day counts for more. Our own. */
const MOST = 4;

export interface TwinDay {
  readonly at: Instant;
  /** Median of one less the other, in the quantity's unit. */
  readonly difference: number;
}
export interface TwinVerdict {
  /** Difference of the learning days, and the spread of a day against which the sum is kept. */
  readonly centre: number;
  readonly scale: number;
  readonly high: number;
  readonly low: number;
  /** The day at which the sum passed its limit, null while it has not. */
  readonly moved: Instant | null;
  /** When the sum that passed began to grow. */
  readonly began: Instant | null;
  /** Of the last day, less the centre. */
  readonly apart: number;
}

/** `days` rising; `floor`: the least spread believed, in the quantity's unit (half the change that matters). Null before the learning days are over. */
export function twinVerdict(days: readonly TwinDay[], floor: number): TwinVerdict | null {
  if (days.length <= LEARNING_DAYS) return null;
  const learned = days.slice(0, LEARNING_DAYS).map((day) => day.difference);
  const centre = median(learned);
  const scale = robustScale(learned, floor);
  let high = 0;
  let low = 0;
  let began: Instant | null = null;
  let moved: Instant | null = null;
  let start: { high: Instant | null; low: Instant | null } = { high: null, low: null };
  for (const day of days.slice(LEARNING_DAYS)) {
    const z = Math.max(-MOST, Math.min(MOST, (day.difference - centre) / scale));
    high = Math.max(0, high + z - K);
    low = Math.max(0, low - z - K);
    start = {
      high: high === 0 ? null : (start.high ?? day.at),
      low: low === 0 ? null : (start.low ?? day.at),
    };
    if (moved === null && (high > H || low > H)) {
      moved = day.at;
      began = high > H ? start.high : start.low;
    }
  }
  return { centre, scale, high, low, moved, began, apart: (days.at(-1) as TwinDay).difference - centre };
}
