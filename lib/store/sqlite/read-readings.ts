import type BetterSqlite3 from "better-sqlite3";
import type { Engine } from "../engine.ts";
import type { JournalEntry, StoredReading } from "../port.ts";
import { type MarkRow, markFinder } from "../spans.ts";

type Row = [stream: number, at: number, value: number, delay: number, source: number];

/** The evaluator's reads as prepared statements: one range of the primary key a stream. */
export function readingReads(
  connection: BetterSqlite3.Database,
): Pick<Engine, "readingsOf" | "readingsBetween" | "firstReadingAt"> {
  const columns = "select stream, at, value, delay, source from reading";
  const ofCommit = connection
    .prepare<number[], Row>(`${columns} where stream = ? and at between ? and ? and at + delay = ?`)
    .raw();
  const marksOfCommit = connection.prepare<number[], MarkRow>(
    "select stream, at, mark from reading_mark where stream = ? and at between ? and ? and received = ?",
  );
  const between = connection
    .prepare<number[], Row>(
      `${columns} where stream = ? and at >= ? and at < ? and at + delay <= ? order by at`,
    )
    .raw();
  const marksBetween = connection.prepare<number[], MarkRow>(
    "select stream, at, mark from reading_mark where stream = ? and at >= ? and at < ? and received <= ?",
  );
  const first = connection
    .prepare<number[], number>("select at from reading where stream = ? and at >= ? order by at limit 1")
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
      for (const { spans, received } of [...entries].sort((a, b) => a.received - b.received)) {
        if (spans === null) continue;
        const batch: StoredReading[] = [];
        for (const [stream, from, to] of spans.readings) {
          const range = [stream, from, to, received];
          collect(batch, ofCommit.all(...range), marksOfCommit.all(...range));
        }
        batch.sort(byAtThenStream);
        for (const reading of batch) readings.push(reading);
      }
      return readings;
    },
    async readingsBetween(streams, from, to, receivedUpTo) {
      const readings: StoredReading[] = [];
      for (const stream of new Set(streams)) {
        const range = [stream, from, to, receivedUpTo];
        collect(readings, between.all(...range), marksBetween.all(...range));
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

const byAtThenStream = (a: StoredReading, b: StoredReading): number => a.at - b.at || a.stream - b.stream;
