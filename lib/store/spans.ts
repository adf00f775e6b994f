import type { ReadingMark } from "#core/quality/flag.ts";
import type { Spans } from "./port.ts";

/**
 * Journal text of the spans. Where all are alike, as where a gateway sends all its probes at once: begin, length, streams as runs
 * ("3-17,40"). Otherwise an instant; stream, begin after that instant, length, again and again; [[stream, at], ...] of conflicts:
 * distances instead of instants, because one commit's readings lie close together and there is a span for every stream in it.
 */
export function encodeSpans({ readings, conflicts }: Spans): string {
  const [, base, end] = readings[0] ?? [0, 0, 0];
  if (readings.length > 0 && conflicts.length === 0) {
    if (readings.every(([, from, to]) => from === base && to === end))
      return JSON.stringify([base, end - base, runsOf(readings.map(([stream]) => stream))]);
  }
  const distances = readings.flatMap(([stream, from, to]) => [stream, from - base, to - from]);
  return JSON.stringify([base, distances, conflicts]);
}

/** Numbers in their order, those that follow one another as "first-last". */
function runsOf(streams: readonly number[]): string {
  const runs: string[] = [];
  for (let first = 0; first < streams.length; ) {
    let last = first;
    while (streams[last + 1] === (streams[last] as number) + 1) last += 1;
    runs.push(last === first ? `${streams[first]}` : `${streams[first]}-${streams[last]}`);
    first = last + 1;
  }
  return runs.join(",");
}

function ofRuns(text: string): number[] {
  return text.split(",").flatMap((run) => {
    const [first = 0, last = first] = run.split("-").map(Number);
    return Array.from({ length: last - first + 1 }, (_, n) => first + n);
  });
}

type Alike = [from: number, length: number, streams: string];
type Written = [base: number, distances: number[], conflicts: Spans["conflicts"]];
/** As journals were written at first: [[stream, from, to], ...] and conflicts. */
type WrittenAtFirst = [readings: Spans["readings"], conflicts: Spans["conflicts"]];

export function decodeSpans(text: string): Spans {
  const written = JSON.parse(text) as Alike | Written | WrittenAtFirst;
  if (written.length === 2) return { readings: written[0], conflicts: written[1] };
  const [base, distances, rest] = written;
  if (typeof distances === "number") {
    const to = base + distances;
    return { readings: ofRuns(rest as Alike[2]).map((stream) => [stream, base, to] as const), conflicts: [] };
  }
  const readings: [number, number, number][] = [];
  for (let i = 0; i < distances.length; i += 3) {
    const from = base + (distances[i + 1] as number);
    readings.push([distances[i] as number, from, from + (distances[i + 2] as number)]);
  }
  return { readings, conflicts: rest as Written[2] };
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
