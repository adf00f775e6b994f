import type { Kit } from "../kits/postgres.ts";

/** Who voided a record, when and why: the columns of every void beside the key of what it voids. */
export const voidColumns = (kit: Kit) => ({
  id: kit.text("id").notNull().unique(),
  clientId: kit.text("client_id").notNull().unique(),
  by: kit.text("by_name").notNull(),
  byId: kit.text("by_id").notNull(),
  reason: kit.text("reason").notNull(),
  at: kit.instant("at").notNull(),
  received: kit.instant("received").notNull(),
});
