import { asc, eq } from "drizzle-orm";
import type { Database } from "../kits/postgres.ts";
import type { RejudgeRange } from "../port.ts";
import type { Tables } from "../tables/tables.ts";
import { fromNewRow } from "./rows.ts";

const EVALUATOR = "evaluator";

/** How far the journal has been evaluated; position 0 before the first evaluation. */
export async function readCursor(
  db: Database,
  { cursor }: Tables,
): Promise<{ seq: number; received: number }> {
  const [row] = await db
    .select({ seq: cursor.seq, received: cursor.received })
    .from(cursor)
    .where(eq(cursor.name, EVALUATOR));
  return row ?? { seq: 0, received: 0 };
}

export async function writeCursor(
  db: Database,
  { cursor }: Tables,
  to: { readonly seq: number; readonly received: number },
): Promise<void> {
  await db
    .insert(cursor)
    .values({ name: EVALUATOR, seq: to.seq, received: to.received })
    .onConflictDoUpdate({ target: cursor.name, set: fromNewRow(cursor) });
}

export async function readRejudgeRanges(db: Database, { rejudge }: Tables): Promise<RejudgeRange[]> {
  return await db.select().from(rejudge).orderBy(asc(rejudge.system));
}
