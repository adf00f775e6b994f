import { asc, eq, isNull } from "drizzle-orm";
import type { NewAudit } from "#core/audit/audit.ts";
import type { ClockAhead } from "#core/gateway/clock-ahead.ts";
import type { ClockPlacement } from "#core/gateway/clock-book.ts";
import type { Database } from "../kits/postgres.ts";
import { type NewPlacementVoid, type StoredOnce, StoreError } from "../port.ts";
import type { Tables } from "../tables/tables.ts";
import { addToAudit } from "./audit.ts";
import { addToJournal } from "./journal.ts";
import { chunks, fromNewRow } from "./rows.ts";

type Rejudge = readonly { readonly stream: number; readonly from: number }[];

export async function readSenderClocks(
  db: Database,
  { senderClock, clockPlacement, clockPlacementVoid }: Tables,
): Promise<{ clocks: ClockAhead[]; placements: ClockPlacement[] }> {
  const clocks = await db.select().from(senderClock).orderBy(asc(senderClock.since), asc(senderClock.id));
  if (clocks.length === 0) return { clocks, placements: [] };
  const rows = await db
    .select({ placement: clockPlacement })
    .from(clockPlacement)
    .leftJoin(clockPlacementVoid, eq(clockPlacementVoid.placement, clockPlacement.id))
    .where(isNull(clockPlacementVoid.placement))
    .orderBy(asc(clockPlacement.received));
  return { clocks, placements: rows.map((row) => row.placement) };
}

/** Inside the transaction of an evaluation. */
export async function writeSenderClocks(
  db: Database,
  { senderClock }: Tables,
  clocks: readonly ClockAhead[],
): Promise<void> {
  for (const chunk of chunks(clocks, senderClock))
    await db
      .insert(senderClock)
      .values(chunk)
      .onConflictDoUpdate({ target: senderClock.id, set: fromNewRow(senderClock) });
}

/** Inside a writing transaction. */
export async function placeClock(
  db: Database,
  tables: Tables,
  added: Omit<ClockPlacement, "received">,
  rejudge: Rejudge,
  now: number,
  audit: NewAudit,
): Promise<StoredOnce<ClockPlacement>> {
  const { clockPlacement } = tables;
  const [known] = await db.select().from(clockPlacement).where(eq(clockPlacement.clientId, added.clientId));
  if (known) return { stored: known, repeated: true };
  const { placements } = await readSenderClocks(db, tables);
  if (placements.some(({ clock }) => clock === added.clock))
    throw new StoreError("invalid", `What came under the clock ${added.clock} is already placed.`);
  const received = await judgeAgain(db, tables, added.id, rejudge, now);
  const stored = { ...added, received };
  await db.insert(clockPlacement).values(stored);
  await addToAudit(db, tables, audit);
  return { stored, repeated: false };
}

/** Inside a writing transaction. */
export async function voidPlacement(
  db: Database,
  tables: Tables,
  added: NewPlacementVoid,
  rejudge: Rejudge,
  now: number,
  audit: NewAudit,
): Promise<void> {
  const { clockPlacementVoid } = tables;
  const [known] = await db
    .select()
    .from(clockPlacementVoid)
    .where(eq(clockPlacementVoid.clientId, added.clientId));
  if (known) return;
  const { placements } = await readSenderClocks(db, tables);
  if (placements.every(({ id }) => id !== added.placement))
    throw new StoreError("invalid", `There is no placement ${added.placement} to take back.`);
  const received = await judgeAgain(db, tables, added.id, rejudge, now);
  await db.insert(clockPlacementVoid).values({ ...added, received });
  await addToAudit(db, tables, audit);
}

async function judgeAgain(
  db: Database,
  tables: Tables,
  ref: string,
  rejudge: Rejudge,
  now: number,
): Promise<number> {
  const rows = rejudge.map((each) => ({ kind: "clock" as const, ref, rejudge: each }));
  const entries = await addToJournal(db, tables, now, rows);
  return entries[0]?.received ?? now;
}
