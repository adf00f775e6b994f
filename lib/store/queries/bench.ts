import { and, asc, desc, eq, gte, inArray, isNull, lt, lte, notExists, sql } from "drizzle-orm";
import { alias } from "drizzle-orm/pg-core";
import type { NewAudit } from "#core/audit/audit.ts";
import type { Instant } from "#core/time/instant.ts";
import type { Database } from "../kits/postgres.ts";
import {
  type BenchOutcome,
  type BenchResult,
  type BenchVoid,
  type JournalEntry,
  type NewBenchTest,
  type StoredBenchTest,
  StoreError,
} from "../port.ts";
import type { Tables } from "../tables/tables.ts";
import { addToAudit } from "./audit.ts";
import { addToJournal } from "./journal.ts";
import { chunks } from "./rows.ts";

/** Stores a test and its results once a client id; inside a writing transaction. */
export async function recordBench(
  db: Database,
  tables: Tables,
  test: NewBenchTest,
  now: number,
  audit?: NewAudit,
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
  for (const chunk of chunks(rows, benchResult)) await db.insert(benchResult).values(chunk);
  if (audit) await addToAudit(db, tables, audit);
  return { id: test.id, received, repeated: false };
}

/**
 * Results that nothing received up to `receivedUpTo` supersedes or voids, with from <= at < to, ordered by at then stream then
 * replicate; at most `limit` where it is given.
 */
export async function benchBetween(
  db: Database,
  { benchTest, benchResult, benchVoid }: Tables,
  range: { streams: readonly number[]; from: number; to: number; receivedUpTo: number; limit?: number },
): Promise<BenchResult[]> {
  const newer = alias(benchResult, "newer");
  const results: BenchResult[] = [];
  for (const streams of chunks([...new Set(range.streams)])) {
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
          notExists(
            db
              .select({ one: sql`1` })
              .from(benchVoid)
              .where(and(eq(benchVoid.result, benchResult.id), lte(benchVoid.received, range.receivedUpTo))),
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
  for (const chunk of chunks(tests)) {
    const rows = await db
      .select({ result: benchResult, analyst: benchTest.analyst })
      .from(benchResult)
      .innerJoin(benchTest, eq(benchTest.id, benchResult.test))
      .where(inArray(benchResult.test, chunk))
      .orderBy(asc(benchResult.at), asc(benchResult.stream), asc(benchResult.replicate), asc(benchResult.id));
    for (const { result, analyst } of rows) results.push({ ...result, analyst });
  }
  return results;
}

/** Marks a result as entered by mistake, once; its moment is judged again. Inside a writing transaction. */
export async function voidBench(
  db: Database,
  tables: Tables,
  added: Omit<BenchVoid, "received">,
  now: number,
  audit: NewAudit,
): Promise<{ readonly stored: BenchVoid; readonly repeated: boolean }> {
  const { benchVoid, benchResult } = tables;
  const [known] = await db.select().from(benchVoid).where(eq(benchVoid.clientId, added.clientId));
  if (known !== undefined) return { stored: known, repeated: true };
  const [of] = await db
    .select({ test: benchResult.test })
    .from(benchResult)
    .where(eq(benchResult.id, added.result));
  if (of === undefined) throw new StoreError("invalid", `There is no bench result ${added.result} to void.`);
  const [entry] = await addToJournal(db, tables, now, [{ kind: "bench", ref: of.test }]);
  const stored = { ...added, received: entry?.received ?? now };
  await db.insert(benchVoid).values(stored);
  await addToAudit(db, tables, audit);
  return { stored, repeated: false };
}

/** A test with all its results as stored, in force or not; null where there is none. */
export async function readBenchTest(
  db: Database,
  tables: Tables,
  by: { readonly clientId: string } | { readonly result: string },
): Promise<StoredBenchTest | null> {
  const { benchTest, benchResult, benchVoid } = tables;
  const [test] =
    "clientId" in by
      ? await db.select().from(benchTest).where(eq(benchTest.clientId, by.clientId))
      : (
          await db
            .select({ test: benchTest })
            .from(benchTest)
            .innerJoin(benchResult, eq(benchResult.test, benchTest.id))
            .where(eq(benchResult.id, by.result))
        ).map((row) => row.test);
  if (test === undefined) return null;
  const newer = alias(benchResult, "newer");
  const rows = await db
    .select({ result: benchResult, corrected: newer.id, voided: benchVoid.id })
    .from(benchResult)
    .leftJoin(newer, eq(newer.supersedes, benchResult.id))
    .leftJoin(benchVoid, eq(benchVoid.result, benchResult.id))
    .where(eq(benchResult.test, test.id))
    .orderBy(asc(benchResult.id));
  return {
    ...test,
    results: rows.map(({ result: { test: _test, at: _at, received: _received, ...result }, ...then }) => ({
      ...result,
      ...then,
    })),
  };
}

/** The newest results in force of each stream, sampled until then where that is given, newest first. */
export async function lastBench(
  db: Database,
  { benchTest, benchResult, benchVoid }: Tables,
  streams: readonly number[],
  limit: number,
  until?: Instant,
): Promise<BenchResult[]> {
  const newer = alias(benchResult, "newer");
  const upTo = until === undefined ? undefined : lte(benchResult.at, until);
  const results: BenchResult[] = [];
  for (const stream of new Set(streams)) {
    const rows = await db
      .select({ result: benchResult, analyst: benchTest.analyst })
      .from(benchResult)
      .innerJoin(benchTest, eq(benchTest.id, benchResult.test))
      .leftJoin(newer, eq(newer.supersedes, benchResult.id))
      .leftJoin(benchVoid, eq(benchVoid.result, benchResult.id))
      .where(and(eq(benchResult.stream, stream), isNull(newer.id), isNull(benchVoid.id), upTo))
      .orderBy(desc(benchResult.at), desc(benchResult.id))
      .limit(limit);
    for (const { result, analyst } of rows) results.push({ ...result, analyst });
  }
  return results;
}
