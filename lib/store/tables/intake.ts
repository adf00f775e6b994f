import type { Answer } from "#core/bench/answer.ts";
import type { ReadingMark } from "#core/quality/flag.ts";
import type { Kit } from "../kits/postgres.ts";
import type { JournalKind, NewBenchResult } from "../port.ts";

/** What was received or typed, in the order it was committed; nothing here is ever changed. */
export function defineIntake(kit: Kit) {
  // No foreign key from a reading to its stream: it would cost a look-up a row, and streams are never deleted.
  const reading = kit.table(
    "reading",
    {
      stream: kit.integer("stream").notNull(),
      at: kit.instant("at").notNull(),
      value: kit.real("value").notNull(),
      /** received - at, in milliseconds; negative where the sender's clock runs ahead. */
      delay: kit.instant("delay").notNull(),
      source: kit.integer("source").notNull(),
      sequence: kit.instant("sequence"),
    },
    (t) => [
      kit.primaryKey({ columns: [t.stream, t.at] }),
      kit.check("reading_value_finite", kit.finite(t.value)),
    ],
  );
  const readingMark = kit.table(
    "reading_mark",
    {
      stream: kit.integer("stream").notNull(),
      at: kit.instant("at").notNull(),
      mark: kit.text("mark").$type<ReadingMark>().notNull(),
      received: kit.instant("received").notNull(),
    },
    (t) => [kit.primaryKey({ columns: [t.stream, t.at, t.mark] })],
  );
  const readingConflict = kit.table(
    "reading_conflict",
    {
      stream: kit.integer("stream").notNull(),
      at: kit.instant("at").notNull(),
      value: kit.real("value").notNull(),
      received: kit.instant("received").notNull(),
      source: kit.integer("source").notNull(),
    },
    (t) => [
      kit.uniqueIndex("reading_conflict_key").on(t.stream, t.at, t.value, t.source),
      kit.check("reading_conflict_value_finite", kit.finite(t.value)),
    ],
  );
  const journal = kit.table(
    "journal",
    {
      seq: kit.instant("seq").primaryKey(),
      kind: kit.text("kind").$type<JournalKind>().notNull(),
      ref: kit.text("ref"),
      /** What is judged again from `since` on: a system or a stream. */
      system: kit.text("system"),
      stream: kit.integer("stream"),
      since: kit.instant("since"),
      /** JSON, see spans.ts. */
      spans: kit.text("spans"),
      received: kit.instant("received").notNull(),
    },
    (t) => [kit.uniqueIndex("journal_received").on(t.received)],
  );
  const rejectedMessage = kit.table(
    "rejected_message",
    {
      topic: kit.text("topic").notNull(),
      reason: kit.text("reason").notNull(),
      sample: kit.bytes("sample").notNull(),
      bytes: kit.instant("bytes").notNull(),
      source: kit.text("source").notNull(),
      count: kit.instant("count").notNull(),
      firstSeen: kit.instant("first_seen").notNull(),
      lastSeen: kit.instant("last_seen").notNull(),
    },
    (t) => [kit.primaryKey({ columns: [t.topic, t.reason] })],
  );
  const unclaimedTopic = kit.table("unclaimed_topic", {
    topic: kit.text("topic").primaryKey(),
    count: kit.instant("count").notNull(),
    firstSeen: kit.instant("first_seen").notNull(),
    lastSeen: kit.instant("last_seen").notNull(),
  });
  const unclaimedReading = kit.table(
    "unclaimed_reading",
    {
      topic: kit.text("topic").notNull(),
      at: kit.instant("at").notNull(),
      value: kit.real("value"),
      word: kit.text("word"),
      unit: kit.text("unit"),
      source: kit.integer("source").notNull(),
      received: kit.instant("received").notNull(),
    },
    (t) => [
      kit.primaryKey({ columns: [t.topic, t.at] }),
      kit.check("unclaimed_reading_value_finite", kit.finite(t.value)),
    ],
  );
  /** Totals kept in the commit that changes them, so that no page has to count rows. */
  const counter = kit.table("counter", {
    name: kit.text("name").primaryKey(),
    value: kit.instant("value").notNull(),
  });
  const benchTest = kit.table("bench_test", {
    id: kit.text("id").primaryKey(),
    clientId: kit.text("client_id").notNull().unique(),
    system: kit.text("system").notNull(),
    point: kit.text("point").notNull(),
    sampledAt: kit.instant("sampled_at").notNull(),
    enteredAt: kit.instant("entered_at").notNull(),
    received: kit.instant("received").notNull(),
    analyst: kit.text("analyst").notNull(),
    note: kit.text("note"),
  });
  const benchResult = kit.table(
    "bench_result",
    {
      id: kit.text("id").primaryKey(),
      test: kit
        .text("test")
        .notNull()
        .references(() => benchTest.id),
      stream: kit.integer("stream").notNull(),
      /** The test's sampling instant and receipt again, so that a chart reads one index. */
      at: kit.instant("at").notNull(),
      received: kit.instant("received").notNull(),
      quantity: kit.text("quantity").notNull(),
      typed: kit.text("typed").notNull(),
      qualifier: kit.text("qualifier").$type<NewBenchResult["qualifier"]>().notNull(),
      unitTyped: kit.text("unit_typed").notNull(),
      value: kit.real("value").notNull(),
      method: kit.text("method"),
      replicate: kit.integer("replicate").notNull(),
      supersedes: kit.text("supersedes"),
      reason: kit.text("reason"),
      answer: kit.text("answer").$type<Answer>(),
      asked: kit.text("asked"),
    },
    (t) => [
      kit.index("bench_result_stream_at").on(t.stream, t.at),
      // One correction a result: a second one must correct the newest, so that exactly one is in force.
      kit.uniqueIndex("bench_result_supersedes").on(t.supersedes),
      kit.check("bench_result_value_finite", kit.finite(t.value)),
    ],
  );
  return {
    reading,
    readingMark,
    readingConflict,
    journal,
    rejectedMessage,
    unclaimedTopic,
    unclaimedReading,
    counter,
    benchTest,
    benchResult,
  };
}
