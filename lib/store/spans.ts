import type { ReadingMark } from "../core/quality/flag.ts";
import type { Spans } from "./port.ts";

/**
 * Journal text of the spans: an instant; stream, begin after that instant, length, again and again; [[stream, at], ...] of conflicts.
 * Distances instead of instants, because one commit's readings lie close together and there is a span for every stream in it.
 */
export function encodeSpans(spans: Spans): string {
  const base = spans.readings[0]?.[1] ?? 0;
  const distances = spans.readings.flatMap(([stream, from, to]) => [stream, from - base, to - from]);
  return JSON.stringify([base, distances, spans.conflicts]);
}

type Written = [base: number, distances: number[], conflicts: Spans["conflicts"]];
/** As journals were written at first: [[stream, from, to], ...] and conflicts. */
type WrittenAtFirst = [readings: Spans["readings"], conflicts: Spans["conflicts"]];

export function decodeSpans(text: string): Spans {
  const written = JSON.parse(text) as Written | WrittenAtFirst;
  if (written.length === 2) return { readings: written[0], conflicts: written[1] };
  const [base, distances, conflicts] = written;
  const readings: [number, number, number][] = [];
  for (let i = 0; i < distances.length; i += 3) {
    const from = base + (distances[i + 1] as number);
    readings.push([distances[i] as number, from, from + (distances[i + 2] as number)]);
  }
  return { readings, conflicts };
}

/** Collects the widest instants of each stream, in the order the streams first appear. */
export function spanCollector(): {
  stored(stream: number, at: number): void;
  conflict(stream: number, at: number): void;
  spans(): Spans;
} {
  const byStream = new Map<number, [number, number, number]>();
  const conflicts: [number, number][] = [];
  return {
    stored(stream, at) {
      const span = byStream.get(stream);
      if (span === undefined) byStream.set(stream, [stream, at, at]);
      else if (at < span[1]) span[1] = at;
      else if (at > span[2]) span[2] = at;
    },
    conflict: (stream, at) => void conflicts.push([stream, at]),
    spans: () => ({ readings: [...byStream.values()], conflicts }),
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
