import type { ReadingMark } from "../core/quality/flag.ts";
import type { NewReading, Spans } from "./port.ts";

/** Journal text of the spans: [[stream, from, to], ...] first, [[stream, at], ...] of conflicts second. */
export const encodeSpans = (spans: Spans): string => JSON.stringify([spans.readings, spans.conflicts]);

export function decodeSpans(text: string): Spans {
  const [readings, conflicts] = JSON.parse(text) as [Spans["readings"], Spans["conflicts"]];
  return { readings, conflicts };
}

/** Widest instants of each stream, in the order the streams first appear. */
export function spansOf(
  stored: readonly Pick<NewReading, "stream" | "at">[],
  conflicts: readonly Pick<NewReading, "stream" | "at">[],
): Spans {
  const byStream = new Map<number, [number, number, number]>();
  for (const { stream, at } of stored) {
    const span = byStream.get(stream);
    if (span === undefined) byStream.set(stream, [stream, at, at]);
    else if (at < span[1]) span[1] = at;
    else if (at > span[2]) span[2] = at;
  }
  return {
    readings: [...byStream.values()],
    conflicts: conflicts.map(({ stream, at }) => [stream, at] as const),
  };
}

// A reading has one mark in the port; where several are stored, the one that casts most doubt is shown.
const WEIGHT: Readonly<Record<ReadingMark, number>> = { conflict: 4, possible_repeat: 3, below: 2, above: 1 };

export interface MarkRow {
  readonly stream: number;
  readonly at: number;
  readonly mark: ReadingMark;
}

/** Looks up the mark of a reading among these rows. */
export function markFinder(rows: readonly MarkRow[]): (stream: number, at: number) => ReadingMark | null {
  if (rows.length === 0) return () => null;
  const marks = new Map<string, ReadingMark>();
  for (const { stream, at, mark } of rows) {
    const key = `${stream}:${at}`;
    const known = marks.get(key);
    if (known === undefined || WEIGHT[mark] > WEIGHT[known]) marks.set(key, mark);
  }
  return (stream, at) => marks.get(`${stream}:${at}`) ?? null;
}
