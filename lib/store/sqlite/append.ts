import type BetterSqlite3 from "better-sqlite3";
import type { AcceptBatch, AppendOutcome, Fate, NewReading } from "../port.ts";
import { encodeSpans, spansOf } from "../spans.ts";

type Head = [seq: number, received: number];
type Known = [value: number, source: number];

/**
 * The statements of `append`, run inside an open transaction on the writing connection. Written by hand: at thousands of
 * single-row commits a second a query builder would cost more than the commit's own work.
 */
export function readingAppender(connection: BetterSqlite3.Database): (batch: AcceptBatch) => AppendOutcome {
  const head = connection
    .prepare<[], Head>("select seq, received from journal order by seq desc limit 1")
    .raw();
  const insert = connection.prepare(
    "insert into reading (stream, at, value, delay, source, sequence) values (?, ?, ?, ?, ?, ?) on conflict do nothing",
  );
  const known = connection
    .prepare<[number, number], Known>("select value, source from reading where stream = ? and at = ?")
    .raw();
  const withdrawnSources = connection
    .prepare<[], number>("select source from import_run where withdrawn is not null")
    .pluck();
  const keep = connection.prepare(
    `insert into withdrawn_reading (source, stream, at, value, delay, sequence)
     select source, stream, at, value, delay, sequence from reading where stream = ? and at = ?`,
  );
  const takePlace = connection.prepare(
    "update reading set value = ?, delay = ?, source = ?, sequence = ? where stream = ? and at = ?",
  );
  const conflict = connection.prepare(
    "insert into reading_conflict (stream, at, value, received, source) values (?, ?, ?, ?, ?) on conflict do nothing",
  );
  const mark = connection.prepare(
    "insert into reading_mark (stream, at, mark, received) values (?, ?, ?, ?) on conflict do nothing",
  );
  const journal = connection.prepare(
    "insert into journal (seq, kind, ref, spans, received) values (?, 'readings', null, ?, ?)",
  );
  const count = connection.prepare("update counter set value = value + ? where name = ?");

  return ({ now, readings }) => {
    const [lastSeq, lastReceived] = head.get() ?? [0, Number.MIN_SAFE_INTEGER];
    const received = Math.max(now, lastReceived + 1);
    const fates: Fate[] = [];
    const stored: NewReading[] = [];
    const conflicts: NewReading[] = [];
    let withdrawn: ReadonlySet<number> | undefined;
    const isWithdrawn = (by: number): boolean => {
      withdrawn ??= new Set(withdrawnSources.all());
      return withdrawn.has(by);
    };
    /** The place of a withdrawn row is taken, once the row as received is kept. */
    const replaced = ({ stream, at, value, source, sequence }: NewReading, by: number): boolean => {
      if (!isWithdrawn(by)) return false;
      keep.run(stream, at);
      takePlace.run(value, received - at, source, sequence, stream, at);
      return true;
    };
    for (const reading of readings) {
      const { stream, at, value, source } = reading;
      const isNew = insert.run(stream, at, value, received - at, source, reading.sequence).changes === 1;
      const there = isNew ? undefined : known.get(stream, at);
      if (there === undefined || replaced(reading, there[1])) {
        stored.push(reading);
        fates.push("stored");
        if (reading.mark !== null) mark.run(stream, at, reading.mark, received);
      } else if (there[0] !== value && conflict.run(stream, at, value, received, source).changes === 1) {
        mark.run(stream, at, "conflict", received);
        conflicts.push(reading);
        fates.push("conflict");
      } else {
        fates.push("duplicate");
      }
    }
    const duplicates = readings.length - stored.length - conflicts.length;
    if (duplicates > 0) count.run(duplicates, "duplicates");
    if (conflicts.length > 0) count.run(conflicts.length, "conflicts");
    if (stored.length > 0) count.run(stored.length, "readings");
    if (stored.length + conflicts.length === 0) return { seq: null, received, fates };
    const seq = lastSeq + 1;
    journal.run(seq, encodeSpans(spansOf(stored, conflicts)), received);
    return { seq, received, fates };
  };
}
