/** Does a stream show a trend over a week: Mann-Kendall with Theil-Sen on the medians of days, which the light cycle does not move. */
import { median } from "../statistics/robust.ts";
import { mannKendall, theilSen } from "./trend.ts";

export interface WeeklyTrend {
  /** Medians of the last finished days, newest last; replaced, never changed in place. */
  medians: readonly number[];
  /** By how much the stream moved in past weeks, newest last. */
  moves: readonly number[];
}

export const emptyTrend = (): WeeklyTrend => ({ medians: [], moves: [] });

const DAYS = 7;
const MOST_MOVES = 28;
const LEAST_MOVES = 14;
const SIGNIFICANT = 0.01;
/** How many times its usual weekly move is unusual; and how many times the practical change, while that is not known. */
const OUT_OF_CUSTOM = 5;
const UNKNOWN = 3;

export interface Move {
  /** By how much, from the first to the last of the days. */
  readonly change: number;
  readonly days: number;
  readonly threshold: number;
  readonly isTrend: boolean;
}

/** A day is over: its median joins, and the week is judged. Null with fewer than seven days. `floor`: the practical change. */
export function takeDay(trend: WeeklyTrend, value: number, floor: number): Move | null {
  trend.medians = [...trend.medians, value].slice(-DAYS);
  if (trend.medians.length < DAYS) return null;
  const days = trend.medians.map((_, i) => i);
  const change = (theilSen(days, trend.medians, 0.9)?.slope ?? 0) * (DAYS - 1);
  const isKnown = trend.moves.length >= LEAST_MOVES;
  const threshold = isKnown ? Math.max(floor, OUT_OF_CUSTOM * median(trend.moves)) : UNKNOWN * floor;
  trend.moves = [...trend.moves, Math.abs(change)].slice(-MOST_MOVES);
  // What has come back by more than half of it goes that way no longer.
  const side = Math.sign(change);
  const furthest = Math.max(...trend.medians.map((each) => side * each));
  const hasTurned = furthest - side * value > Math.abs(change) / 2;
  const isTrend = !hasTurned && mannKendall(trend.medians).p < SIGNIFICANT && Math.abs(change) > threshold;
  return { change, days: DAYS, threshold, isTrend };
}
