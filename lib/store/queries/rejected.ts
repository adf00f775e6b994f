import { desc, eq, inArray, sql } from "drizzle-orm";
import type { Database } from "../kits/postgres.ts";
import type { Rejected, RejectedRow, Unclaimed, UnclaimedRow } from "../port.ts";
import type { Tables } from "../tables/tables.ts";
import { chunks, fromNewRow } from "./rows.ts";

/** What strangers send must not fill the disk: this many kinds of each are kept separately, the rest are counted together. */
const KINDS = 10_000;
const READINGS_KEPT_A_TOPIC = 100_000;
const TOPIC_LENGTH = 1_000;
const REASON_LENGTH = 500;
const SAMPLE_BYTES = 512;
export const OTHERS = "(others)";

interface Counted {
  count: number;
}

/** Counts rejected messages by topic and reason, with the newest sample; in the commit of their batch. */
export async function storeRejected(
  db: Database,
  tables: Tables,
  rejected: readonly Rejected[],
  received: number,
): Promise<void> {
  const { rejectedMessage } = tables;
  const kinds = new Map<string, Rejected & Counted>();
  const keyOf = (row: { topic: string; reason: string }) => JSON.stringify([row.topic, row.reason]);
  const add = (row: Rejected & Counted) => {
    const key = keyOf(row);
    kinds.set(key, { ...row, count: row.count + (kinds.get(key)?.count ?? 0) });
  };
  for (const { topic, reason, sample, bytes, source } of rejected) {
    add({
      topic: topic.slice(0, TOPIC_LENGTH),
      reason: reason.slice(0, REASON_LENGTH),
      sample: Buffer.from(sample.subarray(0, SAMPLE_BYTES)),
      bytes,
      source,
      count: 1,
    });
  }
  const known = new Set<string>();
  for (const topics of chunks([...new Set([...kinds.values()].map((row) => row.topic))])) {
    const rows = await db
      .select({ topic: rejectedMessage.topic, reason: rejectedMessage.reason })
      .from(rejectedMessage)
      .where(inArray(rejectedMessage.topic, topics));
    for (const row of rows) known.add(keyOf(row));
  }
  const fresh = [...kinds].filter(([key]) => !known.has(key));
  const room = Math.max(0, KINDS - (await counted(db, tables, "rejected_kinds")));
  for (const [key, row] of fresh.slice(room)) {
    kinds.delete(key);
    add({ ...row, topic: OTHERS, reason: OTHERS });
  }
  const rows = [...kinds.values()].map((row) => ({ ...row, firstSeen: received, lastSeen: received }));
  for (const chunk of chunks(rows, rejectedMessage)) {
    await db
      .insert(rejectedMessage)
      .values(chunk)
      .onConflictDoUpdate({
        target: [rejectedMessage.topic, rejectedMessage.reason],
        set: {
          ...fromNewRow(rejectedMessage, ["firstSeen"]),
          count: sql`${rejectedMessage.count} + excluded.count`,
        },
      });
  }
  await count(db, tables, "rejected_kinds", Math.min(room, fresh.length));
  await count(db, tables, "rejected", rejected.length);
}

/** Keeps the readings of topics that no stream has claimed, for adoption; in the commit of their batch. */
export async function storeUnclaimed(
  db: Database,
  tables: Tables,
  unclaimed: readonly Unclaimed[],
  received: number,
): Promise<void> {
  const { unclaimedTopic, unclaimedReading } = tables;
  const topics = new Map<string, Unclaimed[]>();
  for (const message of unclaimed) {
    const topic = message.topic.slice(0, TOPIC_LENGTH);
    topics.set(topic, [...(topics.get(topic) ?? []), message]);
  }
  const known = new Map<string, number>();
  for (const names of chunks([...topics.keys()])) {
    const rows = await db
      .select({ topic: unclaimedTopic.topic, count: unclaimedTopic.count })
      .from(unclaimedTopic)
      .where(inArray(unclaimedTopic.topic, names));
    for (const row of rows) known.set(row.topic, row.count);
  }
  let room = Math.max(0, KINDS - (await counted(db, tables, "unclaimed_topics")));
  let added = 0;
  const counts = new Map<string, number>();
  const kept: (typeof unclaimedReading.$inferInsert)[] = [];
  for (const [topic, messages] of topics) {
    const readings = messages.flatMap((message) =>
      message.readings.map((r) => ({ ...r, source: message.source })),
    );
    const isNew = !known.has(topic);
    const own = !isNew || room > 0;
    if (isNew && own) {
      room -= 1;
      added += 1;
    }
    const name = own ? topic : OTHERS;
    counts.set(name, (counts.get(name) ?? 0) + readings.length);
    if (!own || (known.get(topic) ?? 0) >= READINGS_KEPT_A_TOPIC) continue;
    for (const { at, value, unit, source } of readings) {
      const number = typeof value === "number" ? value : null;
      const word = typeof value === "string" ? value : null;
      kept.push({ topic, at, value: number, word, unit, source, received });
    }
  }
  const rows = [...counts].map(([topic, n]) => ({
    topic,
    count: n,
    firstSeen: received,
    lastSeen: received,
  }));
  for (const chunk of chunks(rows, unclaimedTopic)) {
    await db
      .insert(unclaimedTopic)
      .values(chunk)
      .onConflictDoUpdate({
        target: unclaimedTopic.topic,
        set: { count: sql`${unclaimedTopic.count} + excluded.count`, lastSeen: sql`excluded.last_seen` },
      });
  }
  for (const chunk of chunks(kept, unclaimedReading))
    await db.insert(unclaimedReading).values(chunk).onConflictDoNothing();
  await count(db, tables, "unclaimed_topics", added);
  await count(
    db,
    tables,
    "unclaimed",
    unclaimed.reduce((sum, message) => sum + message.readings.length, 0),
  );
}

export async function readRejected(
  db: Database,
  { rejectedMessage }: Tables,
  limit: number,
): Promise<RejectedRow[]> {
  return await db
    .select()
    .from(rejectedMessage)
    .orderBy(desc(rejectedMessage.lastSeen), rejectedMessage.topic, rejectedMessage.reason)
    .limit(limit);
}

export async function readUnclaimed(
  db: Database,
  { unclaimedTopic }: Tables,
  limit: number,
): Promise<UnclaimedRow[]> {
  return await db
    .select()
    .from(unclaimedTopic)
    .orderBy(desc(unclaimedTopic.lastSeen), unclaimedTopic.topic)
    .limit(limit);
}

async function counted(db: Database, { counter }: Tables, name: string): Promise<number> {
  const [row] = await db.select({ value: counter.value }).from(counter).where(eq(counter.name, name));
  return row?.value ?? 0;
}

async function count(db: Database, { counter }: Tables, name: string, by: number): Promise<void> {
  if (by === 0) return;
  await db
    .update(counter)
    .set({ value: sql`${counter.value} + ${by}` })
    .where(eq(counter.name, name));
}
