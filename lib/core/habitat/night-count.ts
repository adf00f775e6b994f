/** The count that a breeding watch asks for each night while its window is open. */
import type { Instant } from "../time/instant.ts";
import { holds } from "./residents.ts";
import type { WatchedSpan } from "./watched.ts";

/** One night of a site: it is counted from its evening until the next one, and should have been by its morning. */
export interface Night {
  readonly from: Instant;
  readonly morning: Instant;
}
export type CountStand = "asked" | "due" | "done";

/**
 * What a watch asks of a night at `now`: a count to be made, one that was not made by the morning, or one that was; null where the watch did not
 * count in that night, so that one opened by day asks from its first evening on. `counted`: instants of counts. A line for people, never an alarm.
 * Source: a count each night while a birth is awaited is common practice, no source.
 */
export function countAsked(
  spans: readonly WatchedSpan[],
  counted: readonly Instant[],
  { from, morning }: Night,
  now: Instant,
): CountStand | null {
  if (counted.some((at) => at >= from && at <= now)) return "done";
  const asked = Math.min(now, morning);
  if (!spans.some((span) => holds(span, asked))) return null;
  return now < morning ? "asked" : "due";
}

/** A count as it was written down, beside what was on record then. */
export interface NightCount {
  readonly counted: number;
  readonly onRecord: number;
}
/** "9 counted", "10 counted, 9 on record: count again". */
export const countWords = ({ counted, onRecord }: NightCount): string =>
  counted === onRecord
    ? `${counted} counted, same as on record`
    : `${counted} counted, ${onRecord} on record: count again; if it still differs, record a birth, a death or a move`;
