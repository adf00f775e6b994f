/** A moment as whole UTC milliseconds since 1970-01-01T00:00:00Z, stored and compared as a number. */
export type Instant = number;

export const SECOND = 1_000;
export const MINUTE = 60_000;
export const HOUR = 3_600_000;
export const DAY = 86_400_000;
