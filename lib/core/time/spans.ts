import type { Instant } from "./instant.ts";

/** A span of time, [from, to). */
export interface Span {
  readonly from: Instant;
  readonly to: Instant;
}

/** The spans that these changes cut a span into, in order of time; changes outside it cut nothing. */
export function spansBetween(changes: readonly Instant[], { from, to }: Span): Span[] {
  const cuts = [...new Set([from, ...changes.filter((at) => at > from && at < to), to])].sort(
    (a, b) => a - b,
  );
  return cuts.slice(1).map((end, i) => ({ from: cuts[i] ?? from, to: end }));
}
