import type BetterSqlite3 from "better-sqlite3";
import { sqliteDatabase } from "../kits/sqlite.ts";
import type { AcceptBatch } from "../port.ts";
import { writeImportProgress } from "../queries/imports.ts";
import { storeRejected, storeUnclaimed } from "../queries/rejected.ts";
import { fatesOf, type ReadingColumns } from "../reading-columns.ts";
import { sqliteTables } from "../tables/schema-sqlite.ts";
import { type ColumnOutcome, readingAppender } from "./append.ts";
import { beginWriting } from "./begin.ts";

/** A batch as it goes to the connection that writes it, in this thread or in one of its own. */
export interface ColumnBatch extends Pick<AcceptBatch, "now" | "rejected" | "unclaimed" | "importing"> {
  readonly readings: ReadingColumns;
}
export type AppendBatch = (batch: ColumnBatch) => Promise<ColumnOutcome>;

/** One durable commit a batch, on a writing connection that nothing else uses meanwhile. Rejects, with nothing written, as SQLite does. */
export function batchAppender(writer: BetterSqlite3.Database): AppendBatch {
  const appendReadings = readingAppender(writer);
  const database = sqliteDatabase(writer);
  const begin = writer.prepare("begin immediate");
  const commit = writer.prepare("commit");
  const rollback = writer.prepare("rollback");
  return async ({ now, readings, rejected, unclaimed, importing }) => {
    await beginWriting(begin);
    try {
      const outcome = appendReadings(now, readings);
      if (rejected.length > 0) await storeRejected(database, sqliteTables, rejected, outcome.received);
      if (unclaimed.length > 0) await storeUnclaimed(database, sqliteTables, unclaimed, outcome.received);
      if (importing) {
        const fates = fatesOf(outcome.fates, readings.count);
        await writeImportProgress(database, sqliteTables, importing, { ...outcome, fates });
      }
      commit.run();
      return outcome;
    } catch (error) {
      // SQLite itself rolls back on some errors (a full disk among them).
      if (writer.inTransaction) rollback.run();
      throw error;
    }
  };
}
