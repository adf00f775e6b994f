import { HOUR, type Instant, MINUTE } from "../time/instant.ts";
import { CLOCK_LIMITS } from "./clock-skew.ts";

/** Delays of one stream in a quarter of an hour of its own time. */
interface Delays {
  readonly start: Instant;
  readonly last: Instant;
  readonly shortest: number;
}

/** A sender is judged by what it sent within this time. Our own. */
const NEWEST = 2 * HOUR;
/** Spans in a row that must show it: one alone may be a message that waited. Our own. */
const LEAST_SPANS = 3;
/** The shortest delays of a clock that is wrong are alike; those of a block that was kept back are not. Our own. */
const ALIKE = 5 * MINUTE;

/**
 * How far behind a sender's clock is, by its shortest delay, from when on, and how much the shortest delays differ; null where it is not off
 * by more than a failed clock is. A constant delay on the way looks the same.
 */
export function clockBehind(
  rows: readonly Delays[],
  now: Instant,
): { readonly offset: number; readonly uncertainty: number; readonly since: Instant } | null {
  const shortest = new Map<Instant, number>();
  for (const row of rows)
    shortest.set(row.start, Math.min(row.shortest, shortest.get(row.start) ?? row.shortest));
  const spans = [...shortest].sort(([a], [b]) => b - a);
  const newest = spans[0];
  if (!newest || now - newest[0] > NEWEST + newest[1]) return null;
  let run = 0;
  while (run < spans.length && (spans[run] as readonly [number, number])[1] > CLOCK_LIMITS.failure) run++;
  const behind = spans.slice(0, run);
  if (behind.length < LEAST_SPANS) return null;
  const delays = behind.map(([, delay]) => delay);
  const offset = Math.min(...delays);
  const uncertainty = Math.max(...delays.slice(0, LEAST_SPANS)) - offset;
  if (uncertainty > ALIKE) return null;
  return { offset, uncertainty, since: Math.min(...behind.map(([start]) => start)) };
}
