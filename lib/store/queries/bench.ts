import { and, asc, eq, gte, inArray, lt, lte, notExists, sql } from "drizzle-orm";
import { alias } from "drizzle-orm/pg-core";
import type { Database } from "../kits/postgres.ts";
import type { BenchOutcome, BenchResult, JournalEntry, NewBenchTest } from "../port.ts";
import type { Tables } from "../tables.ts";
import { addToJournal } from "./journal.ts";
import { portions } from "./rows.ts";

/** Stores a test and its results once a client id; inside a writing transaction. */
export async function recordBench(
  db: Database,
  tables: Tables,
  test: NewBenchTest,
  now: number,
): Promise<BenchOutcome> {
  const { benchTest, benchResult } = tables;
  const [known] = await db
    .select({ id: benchTest.id, received: benchTest.received })
    .from(benchTest)
    .where(eq(benchTest.clientId, test.clientId));
  if (known !== undefined) return { ...known, repeated: true };
  const [entry] = await addToJournal(db, tables, now, [{ kind: "bench", ref: test.id }]);
  const received = entry?.received ?? now;
  const { results, ...row } = test;
  await db.insert(benchTest).values({ ...row, received });
  const rows = results.map((result) => ({ ...result, test: test.id, at: test.sampledAt, received }));
  for (const portion of portions(rows, 14)) await db.insert(benchResult).values(portion);
  return { id: test.id, received, repeated: false };
}

/**
 * Results that nothing received up to `receivedUpTo` supersedes, with from <= at < to, ordered by at then stream then
 * replicate; at most `limit` where it is given.
 */
export async function benchBetween(
  db: Database,
  { benchTest, benchResult }: Tables,
  range: { streams: readonly number[]; from: number; to: number; receivedUpTo: number; limit?: number },
): Promise<BenchResult[]> {
  const newer = alias(benchResult, "newer");
  const results: BenchResult[] = [];
  for (const streams of portions([...new Set(range.streams)], 1)) {
    const query = db
      .select({ result: benchResult, analyst: benchTest.analyst })
      .from(benchResult)
      .innerJoin(benchTest, eq(benchTest.id, benchResult.test))
      .where(
        and(
          inArray(benchResult.stream, streams),
          gte(benchResult.at, range.from),
          lt(benchResult.at, range.to),
          lte(benchResult.received, range.receivedUpTo),
          notExists(
            db
              .select({ one: sql`1` })
              .from(newer)
              .where(and(eq(newer.supersedes, benchResult.id), lte(newer.received, range.receivedUpTo))),
          ),
        ),
      )
      .orderBy(asc(benchResult.at), asc(benchResult.stream), asc(benchResult.replicate), asc(benchResult.id));
    const rows = range.limit === undefined ? await query : await query.limit(range.limit);
    for (const { result, analyst } of rows) results.push({ ...result, analyst });
  }
  return results;
}

/** Results written by these journal entries, superseded since or not, ordered by at then stream then replicate. */
export async function benchOf(
  db: Database,
  { benchTest, benchResult }: Tables,
  entries: readonly JournalEntry[],
): Promise<BenchResult[]> {
  const tests = entries.flatMap((entry) => (entry.kind === "bench" && entry.ref !== null ? [entry.ref] : []));
  const results: BenchResult[] = [];
  for (const portion of portions(tests, 1)) {
    const rows = await db
      .select({ result: benchResult, analyst: benchTest.analyst })
      .from(benchResult)
      .innerJoin(benchTest, eq(benchTest.id, benchResult.test))
      .where(inArray(benchResult.test, portion))
      .orderBy(asc(benchResult.at), asc(benchResult.stream), asc(benchResult.replicate), asc(benchResult.id));
    for (const { result, analyst } of rows) results.push({ ...result, analyst });
  }
  return results;
}
