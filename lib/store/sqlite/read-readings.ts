import type BetterSqlite3 from "better-sqlite3";
import type { JournalEntry, StoredReading } from "../port.ts";
import type { Engine } from "../queries/engine.ts";
import { type MarkRow, markFinder } from "../spans.ts";

type Row = [stream: number, at: number, value: number, delay: number, source: number];

/** The evaluator's reads as prepared statements: one range of the primary key a stream. */
export function readingReads(
  connection: BetterSqlite3.Database,
): Pick<Engine, "readingsOf" | "readingsBetween" | "firstReadingAt"> {
  const columns = "select stream, at, value, delay, source from reading";
  const within = connection
    .prepare<number[], Row>(`${columns} where stream = ? and at between ? and ?`)
    .raw();
  const marksWithin = connection.prepare<number[], MarkRow & { readonly received: number }>(
    "select stream, at, mark, received from reading_mark where stream = ? and at between ? and ?",
  );
  const anyMark = connection.prepare<[], number>("select exists(select 1 from reading_mark)").pluck();
  const between = connection
    .prepare<number[], Row>(
      `${columns} where stream = ? and at >= ? and at < ? and at + delay <= ?
       and source not in (select source from import_run where withdrawn <= ?) order by at`,
    )
    .raw();
  const marksBetween = connection.prepare<number[], MarkRow>(
    "select stream, at, mark from reading_mark where stream = ? and at >= ? and at < ? and received <= ?",
  );
  const first = connection
    .prepare<number[], number>(`select at from reading where stream = ? and at >= ?
       and source not in (select source from import_run where withdrawn is not null) order by at limit 1`)
    .pluck();

  const collect = (into: StoredReading[], rows: readonly Row[], marks: readonly MarkRow[]) => {
    const markOf = markFinder(marks);
    for (const [stream, at, value, delay, source] of rows) {
      into.push({ stream, at, value, received: at + delay, source, mark: markOf(stream, at) });
    }
  };

  return {
    async readingsOf(entries: readonly JournalEntry[]) {
      const readings: StoredReading[] = [];
      const commits = new Set(entries.map((entry) => entry.received));
      const hasMarks = anyMark.get() === 1;
      for (const [stream, from, to] of joinedSpans(entries)) {
        const rows = within.all(stream, from, to).filter((row) => commits.has(row[1] + row[3]));
        const marks = hasMarks ? marksWithin.all(stream, from, to) : [];
        collect(readings, rows, marks.length === 0 ? marks : ofTheirCommit(marks, rows));
      }
      return readings.sort((a, b) => a.received - b.received || byAtThenStream(a, b));
    },
    async readingsBetween(streams, from, to, receivedUpTo) {
      const readings: StoredReading[] = [];
      for (const stream of new Set(streams)) {
        const range = [stream, from, to, receivedUpTo];
        collect(readings, between.all(...range, receivedUpTo), marksBetween.all(...range));
      }
      return streams.length > 1 ? readings.sort(byAtThenStream) : readings;
    },
    async firstReadingAt(streams, from) {
      let earliest: number | null = null;
      for (const stream of streams) {
        const at = first.get(stream, from);
        if (at !== undefined && (earliest === null || at < earliest)) earliest = at;
      }
      return earliest;
    },
  };
}

/** Marks set by the commits of these rows: a later one may have marked the same moment again. */
function ofTheirCommit<M extends { readonly at: number; readonly received: number }>(
  marks: readonly M[],
  rows: readonly Row[],
): M[] {
  const commits = new Set(rows.map((row) => `${row[1]}:${row[1] + row[3]}`));
  return marks.filter((mark) => commits.has(`${mark.at}:${mark.received}`));
}

/** Spans of one stream closer than this are read as one range: many small commits are the usual case. */
const NEAR_MS = 10 * 60_000;

function joinedSpans(entries: readonly JournalEntry[]): [stream: number, from: number, to: number][] {
  const spans = entries.flatMap((entry) => entry.spans?.readings ?? []);
  const sorted = [...spans].sort(([s, a], [t, b]) => s - t || a - b);
  const joined: [number, number, number][] = [];
  for (const [stream, from, to] of sorted) {
    const last = joined.at(-1);
    if (last && last[0] === stream && from - last[2] <= NEAR_MS) last[2] = Math.max(last[2], to);
    else joined.push([stream, from, to]);
  }
  return joined;
}

const byAtThenStream = (a: StoredReading, b: StoredReading): number => a.at - b.at || a.stream - b.stream;
