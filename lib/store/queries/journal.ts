import { asc, desc, gt } from "drizzle-orm";
import type { Database } from "../kits/postgres.ts";
import type { JournalEntry, RejudgeFrom } from "../port.ts";
import { decodeSpans } from "../spans.ts";
import type { Tables } from "../tables/tables.ts";
import { chunks } from "./rows.ts";

/** The newest journal row, null while the journal is empty. */
export async function journalHead(
  db: Database,
  { journal }: Tables,
): Promise<{ seq: number; received: number } | null> {
  const [head] = await db
    .select({ seq: journal.seq, received: journal.received })
    .from(journal)
    .orderBy(desc(journal.seq))
    .limit(1);
  return head ?? null;
}

const columnsOf = (again: RejudgeFrom | null) => ({
  system: again !== null && "system" in again ? again.system : null,
  stream: again !== null && "stream" in again ? again.stream : null,
  since: again?.from ?? null,
});

function rejudgeOf({ system, stream, since }: ReturnType<typeof columnsOf>): RejudgeFrom | null {
  if (since === null) return null;
  if (system !== null) return { system, from: since };
  return stream === null ? null : { stream, from: since };
}

/**
 * Adds rows that carry no readings, inside a writing transaction. `received` is unique and rising over all commits: the
 * clock where it has moved on, else one millisecond after the newest row.
 */
export async function addToJournal(
  db: Database,
  tables: Tables,
  now: number,
  added: readonly (Pick<JournalEntry, "kind"> & Partial<Pick<JournalEntry, "ref" | "rejudge">>)[],
): Promise<JournalEntry[]> {
  const head = await journalHead(db, tables);
  const first = Math.max(now, (head?.received ?? Number.MIN_SAFE_INTEGER) + 1);
  const entries = added.map((row, index) => ({
    seq: (head?.seq ?? 0) + 1 + index,
    kind: row.kind,
    ref: row.ref ?? null,
    rejudge: row.rejudge ?? null,
    spans: null,
    received: first + index,
  }));
  const rows = entries.map(({ rejudge, ...entry }) => ({ ...entry, ...columnsOf(rejudge) }));
  for (const chunk of chunks(rows, tables.journal)) await db.insert(tables.journal).values(chunk);
  return entries;
}

export async function journalAfter(
  db: Database,
  { journal }: Tables,
  seq: number,
  limit: number,
): Promise<JournalEntry[]> {
  const rows = await db
    .select()
    .from(journal)
    .where(gt(journal.seq, seq))
    .orderBy(asc(journal.seq))
    .limit(limit);
  return rows.map(({ system, stream, since, ...row }) => ({
    ...row,
    rejudge: rejudgeOf({ system, stream, since }),
    spans: row.spans === null ? null : decodeSpans(row.spans),
  }));
}
