import type { LogVersion } from "#core/logbook/entry.ts";
import type { Kit } from "../kits/postgres.ts";
import { voidColumns } from "./void-columns.ts";

/** What people do, as records: nothing here is ever changed or removed, but the head of the audit chain, which moves on. */
export function defineRecords(kit: Kit) {
  const audit = kit.table(
    "audit",
    {
      seq: kit.instant("seq").primaryKey(),
      at: kit.instant("at").notNull(),
      actor: kit.text("actor").notNull(),
      actorId: kit.text("actor_id").notNull(),
      verb: kit.text("verb").notNull(),
      subject: kit.text("subject").notNull(),
      /** Canonical JSON. */
      record: kit.text("record").notNull(),
      before: kit.text("before").notNull(),
      hash: kit.text("hash").notNull(),
    },
    (t) => [kit.index("audit_subject").on(t.subject)],
  );
  /** One row: every writer of the audit trail holds it until its commit. */
  const auditHead = kit.table("audit_head", {
    name: kit.text("name").primaryKey(),
    seq: kit.instant("seq").notNull(),
    hash: kit.text("hash").notNull(),
  });
  const acknowledgement = kit.table(
    "acknowledgement",
    {
      id: kit.text("id").primaryKey(),
      clientId: kit.text("client_id").notNull().unique(),
      alarm: kit.text("alarm").notNull(),
      by: kit.text("by_name").notNull(),
      byId: kit.text("by_id").notNull(),
      note: kit.text("note"),
      at: kit.instant("at").notNull(),
      received: kit.instant("received").notNull(),
    },
    (t) => [kit.index("acknowledgement_alarm").on(t.alarm)],
  );
  const benchVoid = kit.table("bench_void", {
    /** One void a result. */
    result: kit.text("result").primaryKey(),
    ...voidColumns(kit),
  });
  const logEntry = kit.table(
    "log_entry",
    {
      id: kit.text("id").primaryKey(),
      root: kit.text("root").notNull(),
      clientId: kit.text("client_id").notNull().unique(),
      change: kit.text("change").$type<LogVersion["change"]>().notNull(),
      supersedes: kit.text("supersedes"),
      reason: kit.text("reason"),
      kind: kit.text("kind").notNull(),
      point: kit.text("point"),
      quantity: kit.text("quantity"),
      at: kit.instant("at").notNull(),
      until: kit.instant("until_at"),
      open: kit.yesNo("open").notNull(),
      expected: kit.instant("expected"),
      amount: kit.real("amount"),
      unit: kit.text("unit"),
      item: kit.text("item"),
      /** JSON. */
      animals: kit.text("animals").notNull(),
      text: kit.text("text").notNull(),
      alarm: kit.text("alarm"),
      by: kit.text("by_name").notNull(),
      byId: kit.text("by_id").notNull(),
      entered: kit.instant("entered").notNull(),
      received: kit.instant("received").notNull(),
    },
    (t) => [
      kit.index("log_entry_root").on(t.root),
      kit.index("log_entry_at").on(t.at),
      kit.index("log_entry_alarm").on(t.alarm),
      // One next version each, so that exactly one is in force.
      kit.uniqueIndex("log_entry_supersedes").on(t.supersedes),
      kit.check("log_entry_amount_finite", kit.finite(t.amount)),
    ],
  );
  const logEntrySystem = kit.table(
    "log_entry_system",
    {
      entry: kit
        .text("entry")
        .notNull()
        .references(() => logEntry.id),
      system: kit.text("system").notNull(),
      /** Place in the list as written, from 0. */
      place: kit.integer("place").notNull(),
    },
    (t) => [
      kit.primaryKey({ columns: [t.entry, t.system] }),
      kit.index("log_entry_system_system").on(t.system),
    ],
  );
  const handover = kit.table(
    "handover",
    {
      id: kit.text("id").primaryKey(),
      clientId: kit.text("client_id").notNull().unique(),
      from: kit.instant("from_at").notNull(),
      to: kit.instant("to_at").notNull(),
      signed: kit.instant("signed").notNull(),
      signedBy: kit.text("signed_by").notNull(),
      signedById: kit.text("signed_by_id").notNull(),
      passesTo: kit.text("passes_to"),
      unanswered: kit.integer("unanswered").notNull(),
      note: kit.text("note").notNull(),
      copy: kit.text("copy").notNull(),
      hash: kit.text("hash").notNull(),
    },
    (t) => [kit.index("handover_signed").on(t.signed)],
  );
  return { audit, auditHead, acknowledgement, benchVoid, logEntry, logEntrySystem, handover };
}
