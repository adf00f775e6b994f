import { and, eq, gt, inArray, lte } from "drizzle-orm";
import type { NewAudit } from "#core/audit/audit.ts";
import type { Database } from "../kits/postgres.ts";
import type { Tables } from "../tables/tables.ts";
import { addToAudit } from "./audit.ts";

/** Counts one more failed attempt for each key; a count is forgotten when its window has passed. Inside a writing transaction. */
export async function addAttempt(
  db: Database,
  tables: Tables,
  keys: readonly string[],
  now: number,
  windowMs: number,
  audit?: NewAudit,
): Promise<void> {
  const { attempt } = tables;
  await db.delete(attempt).where(lte(attempt.since, now - windowMs));
  for (const key of keys) {
    const [known] = await db.select().from(attempt).where(eq(attempt.key, key));
    const row = { count: (known?.count ?? 0) + 1, since: known?.since ?? now };
    await db
      .insert(attempt)
      .values({ key, ...row })
      .onConflictDoUpdate({ target: attempt.key, set: row });
  }
  if (audit) await addToAudit(db, tables, audit);
}

/** Failed attempts within the window, and when the oldest window began. */
export async function readAttempts(
  db: Database,
  { attempt }: Tables,
  keys: readonly string[],
  now: number,
  windowMs: number,
): Promise<{ readonly key: string; readonly count: number; readonly since: number }[]> {
  if (keys.length === 0) return [];
  return await db
    .select()
    .from(attempt)
    .where(and(inArray(attempt.key, [...keys]), gt(attempt.since, now - windowMs)));
}

export async function clearAttempts(
  db: Database,
  { attempt }: Tables,
  keys: readonly string[],
): Promise<void> {
  if (keys.length > 0) await db.delete(attempt).where(inArray(attempt.key, [...keys]));
}
