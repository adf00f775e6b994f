import { and, asc, eq, gte, lt } from "drizzle-orm";
import { FLAG } from "#core/quality/flag.ts";
import { WIDTH_OF } from "#core/quality/rollup.ts";
import type { Database } from "../kits/postgres.ts";
import type { RollupRow, SeriesColumns, Store } from "../port.ts";
import type { Tables } from "../tables/tables.ts";
import { benchBetween } from "./bench.ts";
import { readCursor } from "./cursor.ts";
import { readDerived, readFlags, readRollups } from "./evaluated.ts";
import { stands } from "./imports.ts";

type Query = Parameters<Store["readSeries"]>[0];

interface Sample {
  readonly at: number;
  readonly min: number;
  readonly value: number;
  readonly max: number;
  readonly received: number;
}

/**
 * Columns of one stream with from <= at < to, at most `limit` rows; `next` is where the rest begins. Raw rows are readings,
 * bench results in force, or derived values (min and max then hold its interval), by what the stream is.
 */
export async function readSeries(db: Database, tables: Tables, query: Query): Promise<SeriesColumns> {
  const wanted = { ...query, limit: query.limit + 1 };
  if (query.resolution === "raw") {
    const samples = await rawSamples(db, tables, wanted);
    const flags = await flagsOf(db, tables, query, samples);
    return columns(
      query,
      samples.map((row) => ({ ...row, mean: row.value, n: 1, flag: flags(row) })),
    );
  }
  const rows = await readRollups(db, tables, {
    ...wanted,
    streams: [query.stream],
    width: WIDTH_OF[query.resolution],
  });
  return columns(
    query,
    rows.map((row) => ({
      at: row.start,
      min: row.min,
      mean: row.good > 0 ? row.sum / row.good : null,
      max: row.max,
      n: row.n,
      flag: rollupFlag(row),
    })),
  );
}

async function rawSamples(db: Database, tables: Tables, query: Query): Promise<Sample[]> {
  const { stream, reading } = tables;
  const [kind] = await db.select({ origin: stream.origin }).from(stream).where(eq(stream.id, query.stream));
  if (kind?.origin === "bench") {
    const results = await benchBetween(db, tables, {
      ...query,
      streams: [query.stream],
      receivedUpTo: Number.MAX_SAFE_INTEGER,
    });
    return results.map(({ at, value, received }) => ({ at, min: value, value, max: value, received }));
  }
  if (kind?.origin === "derived") {
    const rows = await readDerived(db, tables, query);
    // Written by an evaluation, so never ahead of one.
    return rows.map(({ at, value, low, high }) => ({
      at,
      min: low ?? value,
      value,
      max: high ?? value,
      received: 0,
    }));
  }
  const rows = await db
    .select({ at: reading.at, value: reading.value, delay: reading.delay })
    .from(reading)
    .where(
      and(
        eq(reading.stream, query.stream),
        gte(reading.at, query.from),
        lt(reading.at, query.to),
        stands(db, tables),
      ),
    )
    .orderBy(asc(reading.at))
    .limit(query.limit);
  return rows.map(({ at, value, delay }) => ({ at, min: value, value, max: value, received: at + delay }));
}

/** A sample without a flag row has passed, unless no evaluation has seen it yet. */
async function flagsOf(
  db: Database,
  tables: Tables,
  query: Query,
  samples: readonly Sample[],
): Promise<(sample: Sample) => number> {
  const last = samples.at(-1);
  if (last === undefined) return () => FLAG.notEvaluated;
  const to = last.at + 1;
  const rows = await readFlags(db, tables, { ...query, to, limit: samples.length });
  const flags = new Map(rows.map((row) => [row.at, row.flag]));
  const { received } = await readCursor(db, tables);
  return (sample) => flags.get(sample.at) ?? (sample.received <= received ? FLAG.pass : FLAG.notEvaluated);
}

/** Pass where every reading was good, suspect where some were, fail where none was, missing where there was none. */
function rollupFlag({ n, good }: RollupRow): number {
  if (n === 0) return FLAG.missing;
  if (good === 0) return FLAG.fail;
  return good === n ? FLAG.pass : FLAG.suspect;
}

function columns(
  { resolution, limit }: Query,
  rows: readonly {
    at: number;
    min: number | null;
    mean: number | null;
    max: number | null;
    n: number;
    flag: number;
  }[],
): SeriesColumns {
  const page = rows.slice(0, limit);
  return {
    resolution,
    at: page.map((row) => row.at),
    min: page.map((row) => row.min),
    mean: page.map((row) => row.mean),
    max: page.map((row) => row.max),
    n: page.map((row) => row.n),
    flag: page.map((row) => row.flag),
    next: rows[limit]?.at ?? null,
  };
}
