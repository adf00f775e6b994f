import type { CalibrationKind } from "#core/probes/calibration.ts";
import type { Kit } from "../kits/postgres.ts";
import { voidColumns } from "./void-columns.ts";

/** What is done to probes: facts like the other records, never changed or removed. */
export function defineProbes(kit: Kit) {
  const calibration = kit.table(
    "calibration",
    {
      id: kit.text("id").primaryKey(),
      clientId: kit.text("client_id").notNull().unique(),
      stream: kit.integer("stream").notNull(),
      kind: kit.text("kind").$type<CalibrationKind>().notNull(),
      from: kit.instant("from_at").notNull(),
      at: kit.instant("at").notNull(),
      before: kit.real("read_before"),
      after: kit.real("read_after"),
      moved: kit.real("moved"),
      /** JSON. */
      standards: kit.text("standards").notNull(),
      slope: kit.real("slope"),
      offset: kit.real("offset_mv"),
      item: kit.text("item"),
      note: kit.text("note").notNull(),
      by: kit.text("by_name").notNull(),
      byId: kit.text("by_id").notNull(),
      entered: kit.instant("entered").notNull(),
      received: kit.instant("received").notNull(),
    },
    (t) => [
      kit.index("calibration_stream").on(t.stream, t.at),
      kit.check("calibration_before_finite", kit.finite(t.before)),
      kit.check("calibration_after_finite", kit.finite(t.after)),
      kit.check("calibration_moved_finite", kit.finite(t.moved)),
    ],
  );
  const calibrationVoid = kit.table("calibration_void", {
    /** One void a calibration. */
    calibration: kit.text("calibration").primaryKey(),
    ...voidColumns(kit),
  });
  const correction = kit.table(
    "correction",
    {
      id: kit.text("id").primaryKey(),
      /** One correction a calibration. */
      calibration: kit.text("calibration").notNull().unique(),
      stream: kit.integer("stream").notNull(),
      from: kit.instant("from_at").notNull(),
      to: kit.instant("to_at").notNull(),
      fouling: kit.real("fouling").notNull(),
      /** JSON. */
      standards: kit.text("standards").notNull(),
      by: kit.text("by_name").notNull(),
      byId: kit.text("by_id").notNull(),
      reason: kit.text("reason").notNull(),
      received: kit.instant("received").notNull(),
    },
    (t) => [
      kit.index("correction_stream").on(t.stream, t.from),
      kit.check("correction_fouling_finite", kit.finite(t.fouling)),
    ],
  );
  return { calibration, calibrationVoid, correction };
}
