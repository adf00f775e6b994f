import { type Instant, MINUTE } from "../time/instant.ts";

/** Widths kept: a quarter of an hour and three hours on UTC boundaries, and the site day (its `start` is local midnight). */
export const QUARTER_HOUR = 15 * MINUTE;
export const THREE_HOURS = 180 * MINUTE;
export const SITE_DAY = 1440 * MINUTE;
export const ROLLUP_WIDTHS = [QUARTER_HOUR, THREE_HOURS, SITE_DAY] as const;
/** By the name of the resolution that is asked for. */
export const WIDTH_OF = { "15min": QUARTER_HOUR, "3h": THREE_HOURS, day: SITE_DAY } as const;

/** Good readings only, in the order of their time; `n` counts all. */
export interface RollupRow {
  readonly stream: number;
  readonly width: number;
  readonly start: Instant;
  readonly n: number;
  readonly good: number;
  readonly min: number | null;
  readonly max: number | null;
  readonly sum: number;
  readonly first: number | null;
  readonly last: number | null;
}
