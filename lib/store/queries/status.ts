import { eq } from "drizzle-orm";
import type { Database } from "../kits/postgres.ts";
import type { StoreStatus } from "../port.ts";
import type { Tables } from "../tables/tables.ts";
import { readCursor, readRejudgeRanges } from "./cursor.ts";
import { journalHead } from "./journal.ts";

export async function readStatus(
  db: Database,
  tables: Tables,
  about: Pick<StoreStatus, "dialect" | "where">,
): Promise<StoreStatus> {
  const { meta, counter } = tables;
  const [schema] = await db.select({ value: meta.value }).from(meta).where(eq(meta.key, "schema"));
  const totals = new Map((await db.select().from(counter)).map((row) => [row.name, row.value]));
  const total = (name: string) => totals.get(name) ?? 0;
  const cursor = await readCursor(db, tables);
  return {
    ...about,
    schema: Number(schema?.value ?? 0),
    journal: await journalHead(db, tables),
    cursor: cursor.seq === 0 ? null : cursor,
    rejudging: await readRejudgeRanges(db, tables),
    counts: {
      readings: total("readings"),
      duplicates: total("duplicates"),
      conflicts: total("conflicts"),
      rejected: total("rejected"),
      unclaimed: total("unclaimed"),
    },
  };
}
