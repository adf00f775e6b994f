import type { Span } from "#app/_components/drawing/chart-data.ts";
import { DAY, HOUR, MINUTE } from "#core/time/instant.ts";

export const RANGES = [
  { id: "12h", label: "12 h", length: 12 * HOUR },
  { id: "3d", label: "3 days", length: 3 * DAY },
  { id: "2w", label: "2 weeks", length: 14 * DAY },
  { id: "3m", label: "3 months", length: 92 * DAY },
  { id: "1y", label: "year", length: 366 * DAY },
] as const;
export type RangeId = (typeof RANGES)[number]["id"];
const USUAL_RANGE: RangeId = "3d";

/** The range named in the address; the usual one for anything else. */
export function rangeOf(text: string | undefined): (typeof RANGES)[number] {
  return RANGES.find((r) => r.id === text) ?? RANGES.find((r) => r.id === USUAL_RANGE) ?? RANGES[1];
}

const SHORTEST = 10 * MINUTE;
const LONGEST = 5 * 366 * DAY;

/** Closer (factor below 1) or wider around a place of the span, 0 = its start, 1 = its end. */
export function zoomed(span: Span, factor: number, place = 0.5): Span {
  const length = span.to - span.from;
  const next = Math.min(LONGEST, Math.max(SHORTEST, length * factor));
  const pivot = span.from + length * place;
  return { from: Math.round(pivot - next * place), to: Math.round(pivot + next * (1 - place)) };
}

/** Moved by a share of its length; negative is earlier. */
export function moved(span: Span, share: number): Span {
  const by = Math.round((span.to - span.from) * share);
  return { from: span.from + by, to: span.to + by };
}

/** Nothing lies after now: a span that would reach past it is pushed back. */
export function notAfter(span: Span, now: number): Span {
  const over = span.to - now;
  return over <= 0 ? span : { from: span.from - over, to: now };
}
