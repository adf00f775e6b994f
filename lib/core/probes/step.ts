/** A calibration that nobody recorded shows as a step of one channel at one moment. */

import { median } from "../statistics/robust.ts";
import { DAY, type Instant, MINUTE } from "../time/instant.ts";

export interface Point {
  readonly at: Instant;
  readonly value: number;
}
const BEFORE = [90 * MINUTE, 15 * MINUTE] as const;
const AFTER = [30 * MINUTE, 120 * MINUTE] as const;
const DAYS = 3;
const LEAST = 3;

function within(points: readonly Point[], from: Instant, to: Instant): number | null {
  const values: number[] = [];
  for (let i = firstFrom(points, from); i < points.length && (points[i] as Point).at <= to; i++)
    values.push((points[i] as Point).value);
  return values.length < LEAST ? null : median(values);
}

function firstFrom(points: readonly Point[], from: Instant): number {
  let low = 0;
  let high = points.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((points[middle] as Point).at < from) low = middle + 1;
    else high = middle;
  }
  return low;
}

const change = (points: readonly Point[], at: Instant): number | null => {
  const before = within(points, at - BEFORE[0], at - BEFORE[1]);
  const after = within(points, at + AFTER[0], at + AFTER[1]);
  return before === null || after === null ? null : after - before;
};

/**
 * The step at an instant: median of 30 to 120 minutes after less median of 15 to 90 minutes before, less what the three days before did at
 * the same clock. `points` rising in time, values in the quantity's unit. Null where readings are missing. Our own method, after the steps that
 * calibrations of river sondes leave.
 */
export function stepAt(points: readonly Point[], at: Instant): number | null {
  const here = change(points, at);
  if (here === null) return null;
  const usual: number[] = [];
  for (let day = 1; day <= DAYS; day++) {
    const then = change(points, at - day * DAY);
    if (then !== null) usual.push(then);
  }
  return usual.length === 0 ? null : here - median(usual);
}

export interface Step {
  readonly at: Instant;
  readonly by: number;
}
const EVERY = 15 * MINUTE;
/** How many times the usual step one must be; the usual one is the median of all that were looked at. */
const ABOVE_USUAL = 6;
const NEAR = 3 * 60 * MINUTE;

/**
 * Steps of at least `least` (the quantity's unit) that stand out of what the series does by itself, in [from, to), at quarter hours; of
 * neighbours the largest.
 */
export function findSteps(points: readonly Point[], from: Instant, to: Instant, least: number): Step[] {
  const all: Step[] = [];
  for (let at = Math.ceil(from / EVERY) * EVERY; at < to; at += EVERY) {
    const by = stepAt(points, at);
    if (by !== null) all.push({ at, by });
  }
  const usual = median(all.map((step) => Math.abs(step.by)));
  const found: Step[] = [];
  for (const step of all) {
    const size = Math.abs(step.by);
    if (size < least || size < ABOVE_USUAL * usual) continue;
    const last = found.at(-1);
    if (last && step.at - last.at <= NEAR) {
      if (size > Math.abs(last.by)) found[found.length - 1] = step;
    } else found.push(step);
  }
  return found;
}
