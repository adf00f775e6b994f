/**
 * Where a stream will be: its level now, what the hour of the day does to it, and its trend where one is proven. `hours`: one value an hour,
 * the last one now; NaN where there was none.
 */

import { mannKendall, theilSen } from "../drift/trend.ts";
import { median } from "../statistics/robust.ts";

const DAY = 24;
const PROFILE_DAYS = 7;
/** Gardner & McKenzie 1985, Management Science 31:1237, damp trends so that they do not run on; the value is our choice. */
const DAMPING = 0.85;
const PROVEN = 0.01;

const given = (values: readonly number[]): number[] => values.filter((value) => Number.isFinite(value));

function dayMedians(hours: readonly number[]): number[] {
  const days: number[] = [];
  for (let end = hours.length; end - DAY >= 0 && days.length < PROFILE_DAYS; end -= DAY)
    days.unshift(median(given(hours.slice(end - DAY, end))));
  return days;
}

/** Units a day, 0 where no trend is proven: seven daily medians, Mann-Kendall p below 0.01, Theil-Sen slope. */
export function provenSlope(hours: readonly number[]): number {
  const days = dayMedians(hours);
  if (days.length < PROFILE_DAYS || days.some((value) => Number.isNaN(value))) return 0;
  if (mannKendall(days).p >= PROVEN) return 0;
  return (
    theilSen(
      days.map((_, i) => i),
      days,
      0.9,
    )?.slope ?? 0
  );
}

/** The value expected so many hours from now (1 and more). */
export type Outlook = (ahead: number) => number;

/** What is expected from now on; null with less than two days of values, or none in the last day. Level and trend are worked out once. */
export function outlookOf(hours: readonly number[]): Outlook | null {
  const last = given(hours.slice(-DAY));
  if (hours.length < 2 * DAY || last.length < DAY / 2) return null;
  const level = median(last);
  const slope = provenSlope(hours);
  const profiles = new Map<number, number>();
  return (ahead) => {
    const hour = ((ahead - 1) % DAY) + 1;
    const profile = profiles.get(hour) ?? profileAt(hours, hour);
    profiles.set(hour, profile);
    let trend = 0;
    for (let day = 1; day <= Math.ceil(ahead / DAY); day++)
      trend += slope * DAMPING ** day * Math.min(1, ahead / DAY - (day - 1));
    return level + profile + trend;
  };
}

/** What the hour of the day does, `hour` hours (1 to 24) from now: the median of what it did on the last days. */
function profileAt(hours: readonly number[], hour: number): number {
  const clock: number[] = [];
  for (let day = 1; day <= PROFILE_DAYS; day++) {
    const at = hours.length - 1 + hour - day * DAY;
    const then = hours[at];
    const around = given(hours.slice(Math.max(0, at - DAY / 2), Math.min(hours.length, at + DAY / 2)));
    if (then === undefined || !Number.isFinite(then) || around.length < DAY / 2) continue;
    clock.push(then - median(around));
  }
  return clock.length === 0 ? 0 : median(clock);
}
