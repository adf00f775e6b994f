import { median } from "../statistics/robust.ts";
import { MINUTE, SECOND } from "../time/instant.ts";

/** NAMUR NE 107 letters for a sender's clock: good, maintenance required, failure. */
export type ClockHealth = "good" | "M" | "F";
export interface ClockSkew {
  /** Milliseconds the sender's clock is behind ours (negative: ahead), as far as can be told: a constant delay on the way looks the same. */
  readonly skew: number;
  readonly health: ClockHealth;
}
/** Off by more than this asks for maintenance, by more than that is a failure. Common practice, no source. */
export const CLOCK_LIMITS = { maintenance: 30 * SECOND, failure: 5 * MINUTE } as const;

/**
 * How far a sender's clock is off, from the shortest delay (receipt − own time, ms) in each of many short spans: the message that waited
 * least tells most about the clocks, and the median over the spans does not follow a few that came late or carried a wrong time.
 * Null without a span. Source: the minimum-delay sample is that of the clock filter of RFC 5905 section 10.
 */
export function clockSkew(shortestDelays: readonly number[]): ClockSkew | null {
  if (shortestDelays.length === 0) return null;
  const skew = median(shortestDelays);
  const off = Math.abs(skew);
  return {
    skew,
    health: off > CLOCK_LIMITS.failure ? "F" : off > CLOCK_LIMITS.maintenance ? "M" : "good",
  };
}
