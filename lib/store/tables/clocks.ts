import type { Kit } from "../kits/postgres.ts";
import { voidColumns } from "./void-columns.ts";

/** What is known of senders' clocks that ran ahead, and what people decided about the readings they stamped. */
export function defineClocks(kit: Kit) {
  const senderClock = kit.table(
    "sender_clock",
    {
      id: kit.text("id").primaryKey(),
      /** The first of those that tell of the same clock: its streams come one by one. */
      clock: kit.text("clock").notNull(),
      source: kit.integer("source").notNull(),
      stream: kit.integer("stream").notNull(),
      /** The receipts of the first and, once the clock is right again, of the first right message. */
      since: kit.instant("since").notNull(),
      until: kit.instant("until"),
      /** How far ahead, in milliseconds, and how much more it may be. */
      offset: kit.instant("offset_ms").notNull(),
      uncertainty: kit.instant("uncertainty_ms").notNull(),
    },
    (t) => [
      kit.uniqueIndex("sender_clock_key").on(t.stream, t.source, t.since),
      kit.index("sender_clock_clock").on(t.clock),
    ],
  );
  /** A person placed what came under a wrong clock at the corrected time; the readings stay as they were sent. */
  const clockPlacement = kit.table(
    "clock_placement",
    {
      id: kit.text("id").primaryKey(),
      clientId: kit.text("client_id").notNull().unique(),
      clock: kit.text("clock").notNull(),
      offset: kit.instant("offset_ms").notNull(),
      by: kit.text("by_name").notNull(),
      byId: kit.text("by_id").notNull(),
      received: kit.instant("received").notNull(),
    },
    (t) => [kit.index("clock_placement_clock").on(t.clock)],
  );
  const clockPlacementVoid = kit.table("clock_placement_void", {
    /** One void a placement. */
    placement: kit.text("placement").primaryKey(),
    ...voidColumns(kit),
  });
  return { senderClock, clockPlacement, clockPlacementVoid };
}
