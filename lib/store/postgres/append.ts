import type pg from "pg";
import type { AcceptBatch, AppendOutcome, Fate, NewReading } from "../port.ts";
import { encodeSpans, spanCollector } from "../spans.ts";
import { postgresTables } from "../tables/schema-postgres.ts";
import { insertInto } from "../tables/table-columns.ts";

const { reading, readingConflict, readingMark, withdrawnReading } = postgresTables;
const READING = ["stream", "at", "value", "delay", "source", "sequence"];
const JOURNAL = ["seq", "spans", "received", "kind", "ref", "system", "stream", "since"];

const keyOf = (row: { stream: number; at: number }): string => `${row.stream}:${row.at}`;
const valueKeyOf = (row: { stream: number; at: number; value: number }): string =>
  `${keyOf(row)}:${row.value + 0}`;

/** The statements of `append`, inside an open writing transaction: a fixed number of round trips whatever the batch. */
export async function appendReadings(
  client: pg.PoolClient,
  { now, readings }: Pick<AcceptBatch, "now" | "readings">,
): Promise<AppendOutcome> {
  const head = await client.query<{ seq: number | null; received: number | null; withdrawn: number[] }>({
    name: "append-head",
    text: `select h.seq, h.received, array(select source from import_run where withdrawn is not null) as withdrawn
      from (select 1) as one left join (select seq, received from journal order by seq desc limit 1) as h on true`,
  });
  const last = head.rows[0];
  const received = Math.max(now, (last?.received ?? Number.MIN_SAFE_INTEGER) + 1);
  if (readings.length === 0) return { seq: null, received, fates: [] };

  const first = new Map<string, NewReading>();
  for (const reading of readings) if (!first.has(keyOf(reading))) first.set(keyOf(reading), reading);
  const withdrawn = last?.withdrawn ?? [];
  if (withdrawn.length > 0) await keepWithdrawn(client, [...first.values()], withdrawn);
  const inserted = await insertReadings(client, [...first.values()], received, withdrawn);
  const values = await storedValues(client, first, inserted);

  const differing = new Map<string, NewReading>();
  for (const reading of readings) {
    if (values.get(keyOf(reading)) !== reading.value && !differing.has(valueKeyOf(reading))) {
      differing.set(valueKeyOf(reading), reading);
    }
  }
  const newConflicts = await insertConflicts(client, [...differing.values()], received);

  const stored: NewReading[] = [];
  const conflicts: NewReading[] = [];
  const fates = readings.map((reading): Fate => {
    if (first.get(keyOf(reading)) === reading && inserted.has(keyOf(reading))) {
      stored.push(reading);
      return "stored";
    }
    if (differing.get(valueKeyOf(reading)) === reading && newConflicts.has(valueKeyOf(reading))) {
      conflicts.push(reading);
      return "conflict";
    }
    return "duplicate";
  });
  await insertMarks(client, stored, conflicts, received);
  await addToCounters(client, [
    ["readings", stored.length],
    ["conflicts", conflicts.length],
    ["duplicates", readings.length - stored.length - conflicts.length],
  ]);
  if (stored.length + conflicts.length === 0) return { seq: null, received, fates };
  const seq = (last?.seq ?? 0) + 1;
  const spans = spanCollector();
  for (const { stream, at } of stored) spans.stored(stream, at);
  for (const { stream, at } of conflicts) spans.conflict(stream, at);
  await client.query({
    name: "journal-readings",
    text: `${insertInto(postgresTables.journal, JOURNAL)} values ($1, $2, $3, 'readings', null, null, null, null)`,
    values: [seq, encodeSpans(spans.spans()), received],
  });
  return { seq, received, fates };
}

async function insertReadings(
  client: pg.PoolClient,
  rows: readonly NewReading[],
  received: number,
  withdrawn: readonly number[],
): Promise<Set<string>> {
  const replaces = withdrawn.length > 0;
  const result = await client.query<{ stream: number; at: number }>({
    name: replaces ? "reading-insert-or-replace" : "reading-insert",
    text: `${insertInto(reading, READING)}
      select * from unnest($1::integer[], $2::bigint[], $3::float8[], $4::bigint[], $5::integer[], $6::bigint[])
      on conflict (stream, at) do ${replaces ? REPLACE : "nothing"} returning stream, at`,
    values: [
      rows.map((row) => row.stream),
      rows.map((row) => row.at),
      rows.map((row) => row.value),
      rows.map((row) => received - row.at),
      rows.map((row) => row.source),
      rows.map((row) => row.sequence),
      ...(replaces ? [withdrawn] : []),
    ],
  });
  return new Set(result.rows.map(keyOf));
}

const REPLACE = `update set value = excluded.value, delay = excluded.delay, source = excluded.source, sequence = excluded.sequence
  where reading.source = any($7::integer[])`;

/** Rows of withdrawn imports are kept as received before another reading takes their place. */
async function keepWithdrawn(
  client: pg.PoolClient,
  rows: readonly NewReading[],
  withdrawn: readonly number[],
): Promise<void> {
  await client.query({
    name: "withdrawn-keep",
    text: `${insertInto(withdrawnReading, READING)}
      select ${READING.map((name) => `r.${name}`).join(", ")}
      from unnest($1::integer[], $2::bigint[]) as k(stream, at) join reading r on r.stream = k.stream and r.at = k.at
      where r.source = any($3::integer[])`,
    values: [rows.map((row) => row.stream), rows.map((row) => row.at), withdrawn],
  });
}

/** The value in the table for each key of the batch. */
async function storedValues(
  client: pg.PoolClient,
  first: ReadonlyMap<string, NewReading>,
  inserted: ReadonlySet<string>,
): Promise<Map<string, number>> {
  const values = new Map<string, number>();
  const old: NewReading[] = [];
  for (const [key, reading] of first) {
    if (inserted.has(key)) values.set(key, reading.value);
    else old.push(reading);
  }
  if (old.length === 0) return values;
  const result = await client.query<{ stream: number; at: number; value: number }>({
    name: "reading-known",
    text: `select r.stream, r.at, r.value from unnest($1::integer[], $2::bigint[]) as k(stream, at)
      join reading r on r.stream = k.stream and r.at = k.at`,
    values: [old.map((row) => row.stream), old.map((row) => row.at)],
  });
  for (const row of result.rows) values.set(keyOf(row), row.value);
  return values;
}

async function insertConflicts(
  client: pg.PoolClient,
  rows: readonly NewReading[],
  received: number,
): Promise<Set<string>> {
  if (rows.length === 0) return new Set();
  const result = await client.query<{ stream: number; at: number; value: number }>({
    name: "conflict-insert",
    text: `${insertInto(readingConflict, ["stream", "at", "value", "received", "source"])}
      select k.stream, k.at, k.value, $5::bigint, k.source
      from unnest($1::integer[], $2::bigint[], $3::float8[], $4::integer[]) as k(stream, at, value, source)
      on conflict (stream, at, value, source) do nothing returning stream, at, value`,
    values: [
      rows.map((row) => row.stream),
      rows.map((row) => row.at),
      rows.map((row) => row.value),
      rows.map((row) => row.source),
      received,
    ],
  });
  return new Set(result.rows.map(valueKeyOf));
}

async function insertMarks(
  client: pg.PoolClient,
  stored: readonly NewReading[],
  conflicts: readonly NewReading[],
  received: number,
): Promise<void> {
  const rows = [
    ...stored.flatMap(({ stream, at, mark }) => (mark === null ? [] : [{ stream, at, mark }])),
    ...conflicts.map(({ stream, at }) => ({ stream, at, mark: "conflict" })),
  ];
  if (rows.length === 0) return;
  await client.query({
    name: "mark-insert",
    text: `${insertInto(readingMark, ["stream", "at", "mark", "received"])}
      select k.stream, k.at, k.mark, $4::bigint
      from unnest($1::integer[], $2::bigint[], $3::text[]) as k(stream, at, mark) on conflict do nothing`,
    values: [rows.map((row) => row.stream), rows.map((row) => row.at), rows.map((row) => row.mark), received],
  });
}

async function addToCounters(
  client: pg.PoolClient,
  counts: readonly (readonly [name: string, by: number])[],
): Promise<void> {
  const changed = counts.filter(([, by]) => by > 0);
  await client.query({
    name: "counter-add",
    text: `update counter set value = counter.value + k.by
      from unnest($1::text[], $2::bigint[]) as k(name, by) where counter.name = k.name`,
    values: [changed.map(([name]) => name), changed.map(([, by]) => by)],
  });
}
