/**
 * The practical part of every threshold on the course of a stream: the smallest change that a keeper would act on. The other part is
 * statistical and learnt from the stream itself; a finding needs both. Common practice, no source, checked against labelled river and
 * drinking-water records (see README.md beside this file).
 */
import { HOUR } from "../time/instant.ts";
import { practiceOf } from "../units/quantity.ts";

export interface CourseLimits {
  /** From one reading to the next: units, and a share of the reading where that is more. */
  readonly step: number;
  readonly stepShare: number;
  /** Away from what is usual at this hour of the day. */
  readonly day: number;
  readonly dayShare: number;
  /** Over a week. */
  readonly week: number;
  readonly weekShare: number;
  /** Unchanged to the last digit for so long is stuck, whatever the stream did before. */
  readonly flatMs: number;
  /** Below a tenth of the usual reading the probe is out of the water. */
  readonly readsInAir: boolean;
  /** How many times the usual distance of a reading from what was expected is unusual; the usual one of normal data is 0.8 sigma. */
  readonly custom: number;
}

const OUT_OF_CUSTOM = 7.5;

/** The limits of a quantity's course, in its registry unit; undefined where its course is not judged (flow, level, states ...). */
export function courseLimitsFor(id: string): CourseLimits | undefined {
  const course = practiceOf(id)?.course;
  if (!course) return undefined;
  const [[step, stepShare], [day, dayShare], [week, weekShare]] = [course.step, course.day, course.week];
  const { flatHours, readsInAir } = course;
  const sizes = { step, stepShare, day, dayShare, week, weekShare };
  return { ...sizes, flatMs: flatHours * HOUR, readsInAir, custom: OUT_OF_CUSTOM };
}

/** The same limits for a stream of which more is tolerated (above 1) or less (below 1): both parts of the thresholds on its steps and days. */
export const tolerant = (limits: CourseLimits, by: number): CourseLimits => ({
  ...limits,
  step: by * limits.step,
  stepShare: by * limits.stepShare,
  day: by * limits.day,
  dayShare: by * limits.dayShare,
  custom: by * limits.custom,
});

/** How large a change is practical at a reading, from an absolute and a relative part. */
export const practical = (size: number, share: number, reading: number): number =>
  Math.max(size, share * Math.abs(reading));
