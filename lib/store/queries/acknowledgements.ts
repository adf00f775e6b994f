import { asc, eq, inArray } from "drizzle-orm";
import type { Acknowledgement } from "#core/alarms/acknowledgement.ts";
import type { NewAudit } from "#core/audit/audit.ts";
import type { Database } from "../kits/postgres.ts";
import type { Alarm, JournalEntry } from "../port.ts";
import type { Tables } from "../tables/tables.ts";
import { addToAudit } from "./audit.ts";
import { isTold } from "./findings.ts";
import { addToJournal } from "./journal.ts";
import { chunks } from "./rows.ts";

/** Stores an acknowledgement once a client id, with its journal row; inside a writing transaction. */
export async function acknowledge(
  db: Database,
  tables: Tables,
  added: Omit<Acknowledgement, "received">,
  now: number,
  audit: NewAudit,
): Promise<{ readonly stored: Acknowledgement; readonly repeated: boolean }> {
  const { acknowledgement } = tables;
  const [known] = await db.select().from(acknowledgement).where(eq(acknowledgement.clientId, added.clientId));
  if (known !== undefined) return { stored: known, repeated: true };
  const [entry] = await addToJournal(db, tables, now, [{ kind: "acknowledge", ref: added.id }]);
  const stored = { ...added, received: entry?.received ?? now };
  await db.insert(acknowledgement).values(stored);
  await addToAudit(db, tables, audit);
  return { stored, repeated: false };
}

/** Acknowledgements of journal entries of kind "acknowledge", by receipt. */
export async function acknowledgementOf(
  db: Database,
  { acknowledgement }: Tables,
  entries: readonly JournalEntry[],
): Promise<Acknowledgement[]> {
  const ids = entries.flatMap((entry) =>
    entry.kind === "acknowledge" && entry.ref !== null ? [entry.ref] : [],
  );
  const found: Acknowledgement[] = [];
  for (const chunk of chunks(ids))
    found.push(
      ...(await db
        .select()
        .from(acknowledgement)
        .where(inArray(acknowledgement.id, chunk))
        .orderBy(asc(acknowledgement.received))),
    );
  return found;
}

export async function readAcknowledgement(
  db: Database,
  { acknowledgement }: Tables,
  clientId: string,
): Promise<Acknowledgement | null> {
  const [found] = await db.select().from(acknowledgement).where(eq(acknowledgement.clientId, clientId));
  return found ?? null;
}

export async function readAlarm(db: Database, { alarm }: Tables, id: string): Promise<Alarm | null> {
  const [found] = await db.select().from(alarm).where(eq(alarm.id, id));
  return found && isTold(found) ? found : null;
}
