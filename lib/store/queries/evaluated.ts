import { and, asc, eq, gte, inArray, lt } from "drizzle-orm";
import type { Flag, Reason } from "#core/quality/flag.ts";
import type { Database } from "../kits/postgres.ts";
import type { BandEdges, Current, DerivedRow, FlagRow, RollupRow } from "../port.ts";
import type { Tables } from "../tables/tables.ts";
import { chunks } from "./rows.ts";

// Only the evaluator writes these columns, through the port's types.
const flagOf = (stored: number): Flag => stored as Flag;
const reasonsOf = (stored: string): Reason[] => (stored === "" ? [] : (stored.split(",") as Reason[]));

/** The newest verdict of each stream (of all where none are named), by stream. */
export async function readCurrent(
  db: Database,
  { current }: Tables,
  streams?: readonly number[],
): Promise<Current[]> {
  const rows: (typeof current.$inferSelect)[] = [];
  if (streams === undefined) rows.push(...(await db.select().from(current).orderBy(asc(current.stream))));
  for (const chunk of chunks(streams ?? [])) {
    rows.push(
      ...(await db.select().from(current).where(inArray(current.stream, chunk)).orderBy(asc(current.stream))),
    );
  }
  return rows.map((row) => ({
    ...row,
    flag: flagOf(row.flag),
    reasons: reasonsOf(row.reasons),
    band: row.band === null ? null : (JSON.parse(row.band) as BandEdges),
  }));
}

export interface Range {
  readonly stream: number;
  readonly from: number;
  readonly to: number;
  readonly limit: number;
}

export async function readDerived(
  db: Database,
  { derived, formula }: Tables,
  range: Range,
): Promise<DerivedRow[]> {
  const { stream, at, value, low, high } = derived;
  return await db
    .select({ stream, at, value, low, high, formula: formula.text })
    .from(derived)
    .innerJoin(formula, eq(formula.id, derived.formula))
    .where(and(eq(derived.stream, range.stream), gte(derived.at, range.from), lt(derived.at, range.to)))
    .orderBy(asc(derived.at))
    .limit(range.limit);
}

export async function readFlags(db: Database, { flag }: Tables, range: Range): Promise<FlagRow[]> {
  const rows = await db
    .select()
    .from(flag)
    .where(and(eq(flag.stream, range.stream), gte(flag.at, range.from), lt(flag.at, range.to)))
    .orderBy(asc(flag.at))
    .limit(range.limit);
  return rows.map((row) => ({ ...row, flag: flagOf(row.flag), reasons: reasonsOf(row.reasons) }));
}

/** Rollup rows of one width with from <= start < to, ordered by stream then start. */
export async function readRollups(
  db: Database,
  { rollup }: Tables,
  query: {
    readonly streams: readonly number[];
    readonly from: number;
    readonly to: number;
    readonly width: number;
    readonly limit?: number;
  },
): Promise<RollupRow[]> {
  const rows: RollupRow[] = [];
  for (const chunk of chunks([...new Set(query.streams)].sort((a, b) => a - b))) {
    const select = db
      .select()
      .from(rollup)
      .where(
        and(
          eq(rollup.width, query.width),
          inArray(rollup.stream, chunk),
          gte(rollup.start, query.from),
          lt(rollup.start, query.to),
        ),
      )
      .orderBy(asc(rollup.stream), asc(rollup.start));
    for (const row of query.limit === undefined ? await select : await select.limit(query.limit))
      rows.push(row);
  }
  return rows;
}
