import { createHash } from "node:crypto";
import { and, asc, desc, eq, gt, lt, sql } from "drizzle-orm";
import {
  type AuditCheck,
  type AuditRow,
  canonicalJson,
  chainedText,
  type NewAudit,
} from "#core/audit/audit.ts";
import type { Database } from "../kits/postgres.ts";
import { StoreError } from "../port.ts";
import type { Tables } from "../tables/tables.ts";

const HEAD = "head";
const PORTION = 1_000;

export const sha256 = (text: string): string => createHash("sha256").update(text, "utf8").digest("hex");

/** Adds one row to the chain inside a writing transaction, whose end alone lets the next writer at the head; gives its number. */
export async function addToAudit(db: Database, tables: Tables, added: NewAudit): Promise<number> {
  const { audit, auditHead } = tables;
  const [head] = await db
    .update(auditHead)
    .set({ seq: sql`${auditHead.seq} + 1` })
    .where(eq(auditHead.name, HEAD))
    .returning({ seq: auditHead.seq, before: auditHead.hash });
  if (head === undefined) throw new StoreError("unavailable", "The head of the audit trail is missing.");
  const row = { ...added, ...head, record: canonicalJson(added.record) };
  const hash = sha256(chainedText(row));
  await db.insert(audit).values({ ...row, hash });
  await db.update(auditHead).set({ hash }).where(eq(auditHead.name, HEAD));
  return head.seq;
}

/** Rows before a number, newest first. */
export async function readAudit(
  db: Database,
  { audit }: Tables,
  query: { before?: number; actor?: string; verb?: string; limit: number },
): Promise<AuditRow[]> {
  return await db
    .select()
    .from(audit)
    .where(
      and(
        query.before === undefined ? undefined : lt(audit.seq, query.before),
        query.actor === undefined ? undefined : eq(audit.actor, query.actor),
        query.verb === undefined ? undefined : eq(audit.verb, query.verb),
      ),
    )
    .orderBy(desc(audit.seq))
    .limit(query.limit);
}

export async function readAuditRow(db: Database, { audit }: Tables, seq: number): Promise<AuditRow | null> {
  const [row] = await db.select().from(audit).where(eq(audit.seq, seq));
  return row ?? null;
}

/** Follows the chain from its first row to its head. */
export async function verifyAudit(db: Database, { audit, auditHead }: Tables): Promise<AuditCheck> {
  let last = { seq: 0, hash: "" };
  let broken: number | null = null;
  for (;;) {
    const rows = await db
      .select()
      .from(audit)
      .where(gt(audit.seq, last.seq))
      .orderBy(asc(audit.seq))
      .limit(PORTION);
    for (const row of rows) {
      const follows = row.seq === last.seq + 1 && row.before === last.hash;
      if (broken === null && (!follows || sha256(chainedText(row)) !== row.hash)) broken = row.seq;
      last = row;
    }
    if (rows.length < PORTION) break;
  }
  const [head] = await db.select().from(auditHead).where(eq(auditHead.name, HEAD));
  if (broken === null && (head?.seq !== last.seq || head.hash !== last.hash)) broken = last.seq + 1;
  return { rows: last.seq, broken, head: last.hash };
}
