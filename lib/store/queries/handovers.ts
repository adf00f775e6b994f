import { desc, eq, lt } from "drizzle-orm";
import type { NewAudit } from "#core/audit/audit.ts";
import type { Handover, NewHandover } from "#core/overnight/handover.ts";
import type { Database } from "../kits/postgres.ts";
import type { Tables } from "../tables/tables.ts";
import { addToAudit, sha256 } from "./audit.ts";

/** Stores a signed handover once a client id; inside a writing transaction. */
export async function signHandover(
  db: Database,
  tables: Tables,
  added: NewHandover,
  audit: NewAudit,
): Promise<{ readonly stored: Handover; readonly repeated: boolean }> {
  const { handover } = tables;
  const [known] = await db.select().from(handover).where(eq(handover.clientId, added.clientId));
  if (known !== undefined) return { stored: known, repeated: true };
  const stored = { ...added, hash: sha256(added.copy) };
  await db.insert(handover).values(stored);
  await addToAudit(db, tables, audit);
  return { stored, repeated: false };
}

/** Newest first. */
export async function readHandovers(
  db: Database,
  { handover }: Tables,
  query: { before?: number; limit: number },
): Promise<Handover[]> {
  return await db
    .select()
    .from(handover)
    .where(query.before === undefined ? undefined : lt(handover.signed, query.before))
    .orderBy(desc(handover.signed))
    .limit(query.limit);
}

export async function readHandover(
  db: Database,
  { handover }: Tables,
  by: { readonly id: string } | { readonly clientId: string },
): Promise<Handover | null> {
  const where = "id" in by ? eq(handover.id, by.id) : eq(handover.clientId, by.clientId);
  const [found] = await db.select().from(handover).where(where);
  return found ?? null;
}
