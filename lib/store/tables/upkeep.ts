import type { ImportState } from "#core/importing/progress.ts";
import type { Kit } from "../kits/postgres.ts";

/** What keeps the store itself in order: imports of recorded files, backups, and what each process says of itself. */
export function defineUpkeep(kit: Kit) {
  const importRun = kit.table("import_run", {
    id: kit.text("id").primaryKey(),
    /** Every import is a source of its own, so that all its rows can be left out again. */
    source: kit.integer("source").notNull().unique(),
    file: kit.text("file").notNull(),
    bytes: kit.instant("bytes").notNull(),
    /** Tells one file from another: of its size and its first piece. */
    fingerprint: kit.text("fingerprint").notNull(),
    /** JSON: how the file is to be read. */
    plan: kit.text("plan").notNull(),
    state: kit.text("state").$type<ImportState>().notNull(),
    /** JSON: how far the file has been read; null before its heading was. */
    position: kit.text("position"),
    /** JSON: what became of the rows so far. */
    report: kit.text("report").notNull(),
    stored: kit.instant("stored").notNull(),
    begun: kit.instant("begun").notNull(),
    begunBy: kit.text("begun_by").notNull(),
    changed: kit.instant("changed").notNull(),
    finished: kit.instant("finished"),
    /** Receive instant of the withdrawal: from then on its rows are left out everywhere. */
    withdrawn: kit.instant("withdrawn"),
    withdrawnBy: kit.text("withdrawn_by"),
    reason: kit.text("reason"),
  });
  /** Rows of a withdrawn import whose place another reading has taken; nothing that was received is lost. */
  const withdrawnReading = kit.table(
    "withdrawn_reading",
    {
      source: kit.integer("source").notNull(),
      stream: kit.integer("stream").notNull(),
      at: kit.instant("at").notNull(),
      value: kit.real("value").notNull(),
      delay: kit.instant("delay").notNull(),
      sequence: kit.instant("sequence"),
    },
    (t) => [kit.primaryKey({ columns: [t.source, t.stream, t.at] })],
  );
  const backupRun = kit.table("backup_run", {
    number: kit.ownNumber("number"),
    file: kit.text("file").notNull(),
    bytes: kit.instant("bytes").notNull(),
    began: kit.instant("began").notNull(),
    finished: kit.instant("finished").notNull(),
    /** Null where it was made and verified; else what went wrong. */
    trouble: kit.text("trouble"),
    readings: kit.instant("readings"),
    /** Receive instant of the newest row in it: what a restore brings back. */
    upTo: kit.instant("up_to"),
  });
  const processReport = kit.table("process_report", {
    name: kit.text("name").primaryKey(),
    host: kit.text("host").notNull(),
    pid: kit.instant("pid").notNull(),
    started: kit.instant("started").notNull(),
    at: kit.instant("at").notNull(),
    /** JSON. */
    report: kit.text("report").notNull(),
  });
  return { importRun, withdrawnReading, backupRun, processReport };
}
