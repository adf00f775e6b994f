import type BetterSqlite3 from "better-sqlite3";
import { CONFLICT, DUPLICATE, type FateColumn, type ReadingColumns, STORED } from "../reading-columns.ts";
import { encodeSpans, spanCollector } from "../spans.ts";
import { sqliteTables } from "../tables/schema-sqlite.ts";
import { insertInto, nameList, places } from "../tables/table-columns.ts";

type Head = [seq: number, received: number];
type Known = [value: number, source: number];

// The order in which the statements below are given their values.
const READING = ["stream", "at", "value", "delay", "source", "sequence"];
const CONFLICT_ROW = ["stream", "at", "value", "received", "source"];
const MARK = ["stream", "at", "mark", "received"];
const JOURNAL = ["seq", "spans", "received", "kind", "ref", "system", "stream", "since"];
const { reading, readingConflict, readingMark, withdrawnReading } = sqliteTables;

export interface ColumnOutcome {
  readonly seq: number | null;
  readonly received: number;
  readonly fates: FateColumn;
}

/**
 * The statements of `append`, run inside an open transaction on the writing connection. Written by hand: at thousands of
 * single-row commits a second a query builder would cost more than the commit's own work. One row a statement: an insert of many
 * rows at once took more processor time a row, because of the values it has to bind.
 */
export function readingAppender(
  connection: BetterSqlite3.Database,
): (now: number, readings: ReadingColumns) => ColumnOutcome {
  const head = connection
    .prepare<[], Head>("select seq, received from journal order by seq desc limit 1")
    .raw();
  const insert = connection.prepare(
    `${insertInto(reading, READING)} values (${places(READING)}) on conflict do nothing`,
  );
  const known = connection
    .prepare<[number, number], Known>("select value, source from reading where stream = ? and at = ?")
    .raw();
  const withdrawnSources = connection
    .prepare<[], number>("select source from import_run where withdrawn is not null")
    .pluck();
  const keep = connection.prepare(
    `${insertInto(withdrawnReading, READING)} select ${nameList(READING)} from reading where stream = ? and at = ?`,
  );
  const takePlace = connection.prepare(
    "update reading set value = ?, delay = ?, source = ?, sequence = ? where stream = ? and at = ?",
  );
  const conflict = connection.prepare(
    `${insertInto(readingConflict, CONFLICT_ROW)} values (${places(CONFLICT_ROW)}) on conflict do nothing`,
  );
  const mark = connection.prepare(
    `${insertInto(readingMark, MARK)} values (${places(MARK)}) on conflict do nothing`,
  );
  const journal = connection.prepare(
    `${insertInto(sqliteTables.journal, JOURNAL)} values (?, ?, ?, 'readings', null, null, null, null)`,
  );
  const count = connection.prepare("update counter set value = value + ? where name = ?");

  return (now, { count: total, stream, at, value, source, sequence, marks }) => {
    const [lastSeq, lastReceived] = head.get() ?? [0, Number.MIN_SAFE_INTEGER];
    const received = Math.max(now, lastReceived + 1);
    const spans = spanCollector();
    let fates: Uint8Array | null = null;
    let duplicates = 0;
    let conflicts = 0;
    let withdrawn: ReadonlySet<number> | undefined;
    for (let index = 0; index < total; index += 1) {
      const [id, instant, number] = [stream[index] as number, at[index] as number, value[index] as number];
      const order = sequence[index] as number;
      const from = source[index] as number;
      const numbered = Number.isNaN(order) ? null : order;
      if (insert.run(id, instant, number, received - instant, from, numbered).changes === 1) {
        spans.stored(id, instant);
        continue;
      }
      const [there, by] = known.get(id, instant) as Known;
      withdrawn ??= new Set(withdrawnSources.all());
      if (withdrawn.has(by)) {
        // The place of a withdrawn row is taken, once the row as received is kept.
        keep.run(id, instant);
        takePlace.run(number, received - instant, from, numbered, id, instant);
        spans.stored(id, instant);
        continue;
      }
      fates ??= new Uint8Array(total).fill(STORED);
      if (there !== number && conflict.run(id, instant, number, received, from).changes === 1) {
        mark.run(id, instant, "conflict", received);
        spans.conflict(id, instant);
        fates[index] = CONFLICT;
        conflicts += 1;
      } else {
        fates[index] = DUPLICATE;
        duplicates += 1;
      }
    }
    for (const [index, name] of marks)
      if (fates === null || fates[index] === STORED)
        mark.run(stream[index] as number, at[index] as number, name, received);
    const stored = total - duplicates - conflicts;
    if (duplicates > 0) count.run(duplicates, "duplicates");
    if (conflicts > 0) count.run(conflicts, "conflicts");
    if (stored > 0) count.run(stored, "readings");
    if (stored + conflicts === 0) return { seq: null, received, fates };
    const seq = lastSeq + 1;
    journal.run(seq, encodeSpans(spans.spans()), received);
    return { seq, received, fates };
  };
}
