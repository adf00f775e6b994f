/**
 * The practical part of every threshold on the course of a stream: the smallest change that a keeper would act on. The other part is
 * statistical and learnt from the stream itself; a finding needs both. Common practice, no source, checked against labelled river and
 * drinking-water records (see README.md beside this file).
 */
import { HOUR } from "../time/instant.ts";

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

const limits = (step: number, day: number, week: number, flatHours: number): CourseLimits => ({
  step,
  stepShare: 0,
  day,
  dayShare: 0,
  week,
  weekShare: 0,
  flatMs: flatHours * HOUR,
  readsInAir: false,
  custom: OUT_OF_CUSTOM,
});
const salt = (step: number): CourseLimits => ({
  step,
  stepShare: 0.014,
  day: step,
  dayShare: 0.02,
  week: step / 4,
  weekShare: 0.01,
  flatMs: 12 * HOUR,
  readsInAir: true,
  custom: OUT_OF_CUSTOM,
});

const LIMITS: Readonly<Record<string, CourseLimits>> = {
  temperature: limits(0.4, 0.5, 0.2, 12),
  ph: limits(0.07, 0.1, 0.06, 24),
  dissolved_oxygen: limits(0.35, 0.5, 0.3, 6),
  orp: limits(15, 25, 10, 12),
  specific_conductance: salt(10),
  conductivity: salt(0.01),
  salinity: salt(0.1),
  turbidity: limits(0.2, 0.2, 0.1, 24),
  chlorine: limits(0.03, 0.03, 0.02, 24),
  total_chlorine: limits(0.03, 0.03, 0.02, 24),
  total_residual_oxidant: limits(0.03, 0.03, 0.02, 24),
  total_gas_pressure: limits(1, 1, 0.5, 12),
};

/** The limits of a quantity's course, in its registry unit; undefined where its course is not watched (flow, level, states ...). */
export const courseLimitsFor = (quantity: string): CourseLimits | undefined => LIMITS[quantity];

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
