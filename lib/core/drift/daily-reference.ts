/**
 * What is usual at this hour of the day: the median, over the last days, of each hour's median; and by how much hours usually miss it.
 * Rows of days are replaced, never changed in place, so that kept copies of the state can share them.
 */

import { median } from "../statistics/robust.ts";
import { HOUR, type Instant } from "../time/instant.ts";

export interface DailyReference {
  /** Medians of the hours of today, wall clock; null where there was none. */
  today: readonly (number | null)[];
  /** Finished days, newest last. */
  days: readonly (readonly (number | null)[])[];
  /** The largest miss of each finished day that had a reference. */
  misses: readonly number[];
  missToday: number;
  /** The usual value at each hour; null while fewer than three days are known. */
  usual: readonly (number | null)[] | null;
  /** What a day's largest miss usually is; 0 while not known. */
  usualMiss: number;
}

export const emptyReference = (): DailyReference => ({
  today: [],
  days: [],
  misses: [],
  missToday: 0,
  usual: null,
  usualMiss: 0,
});

const MOST_DAYS = 7;
const LEAST_DAYS = 3;
const MOST_MISSES = 14;
const HOURS = 24;

/** Take the median of an hour that is over (0 to 23). `isFrozen`: a finding is open, the hour does not count as usual. */
export function takeHour(reference: DailyReference, hour: number, value: number, isFrozen: boolean): void {
  const usual = reference.usual?.[hour] ?? null;
  if (usual !== null && !isFrozen)
    reference.missToday = Math.max(reference.missToday, Math.abs(value - usual));
  const today = Array.from({ length: HOURS }, (_, i) => reference.today[i] ?? null);
  today[hour] = isFrozen ? usual : value;
  reference.today = today;
}

/** The site day is over: learn from it. */
export function endDay(reference: DailyReference): void {
  const known = reference.today.filter((value) => value !== null).length;
  if (known >= HOURS / 2) {
    if (reference.usual) reference.misses = [...reference.misses, reference.missToday].slice(-MOST_MISSES);
    reference.days = [...reference.days, reference.today].slice(-MOST_DAYS);
  }
  reference.today = [];
  reference.missToday = 0;
  reference.usualMiss = reference.misses.length > 0 ? median(reference.misses) : 0;
  reference.usual = reference.days.length < LEAST_DAYS ? null : usualOf(reference.days);
}

function usualOf(days: DailyReference["days"]): (number | null)[] {
  return Array.from({ length: HOURS }, (_, hour) => {
    const values = days.flatMap((day) => day[hour] ?? []);
    return values.length < LEAST_DAYS ? null : median(values);
  });
}

/** What has stood for long is what is usual now: forget the days before. */
export function learnAnew(reference: DailyReference): void {
  reference.days = [];
  reference.misses = [];
  reference.usual = null;
  reference.usualMiss = 0;
}

/** The usual value at a moment, `hour` counted in fractions from midnight: linear between the middles of hours. Null where not known. */
export function usualAt(reference: DailyReference, hour: number): number | null {
  const { usual } = reference;
  if (!usual) return null;
  const from = Math.floor(hour - 0.5);
  const before = usual[(from + HOURS) % HOURS] ?? null;
  const after = usual[(from + 1) % HOURS] ?? null;
  if (before === null || after === null) return before ?? after;
  return before + (after - before) * (hour - 0.5 - from);
}

/** The hour of the wall clock in fractions, counted from the coming midnight (`end` of the site day) so that it is right after a change of clocks. */
export const wallHour = (at: Instant, end: Instant): number => (24 - (end - at) / HOUR + 24) % 24;

/** How many times a day's usual largest miss is unusual. */
const OUT_OF_CUSTOM = 4;

/** How far from usual is too far: a practical and a statistical part. Null while the usual miss is not known. */
export const missAllowed = (reference: DailyReference, floor: number): number | null =>
  reference.misses.length < LEAST_DAYS ? null : Math.max(floor, OUT_OF_CUSTOM * reference.usualMiss);
