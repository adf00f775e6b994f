import { mkdirSync } from "node:fs";
import { dirname, resolve } from "node:path";
import type BetterSqlite3 from "better-sqlite3";
import { buildStore } from "../build/build-store.ts";
import { sqliteDatabase } from "../kits/sqlite.ts";
import { migrationsFolder } from "../migrations-folder.ts";
import type { Store } from "../port.ts";
import type { Engine } from "../queries/engine.ts";
import { Queue } from "../queue.ts";
import { columnsOf, fatesOf } from "../reading-columns.ts";
import { checkSchemaVersion } from "../schema-version.ts";
import { sqliteTables } from "../tables/schema-sqlite.ts";
import { batchAppender } from "./append-batch.ts";
import type { AppendThread, StartAppendThread } from "./append-thread.ts";
import { beginWriting } from "./begin.ts";
import { sqliteBulk } from "./bulk.ts";
import { assertWritable, openConnection } from "./connection.ts";
import { sqliteStoreError } from "./errors.ts";
import { migrateSqlite, sqliteSchemaVersion } from "./migrate.ts";
import { readingReads } from "./read-readings.ts";
import { stretchTallies } from "./tally.ts";

export interface SqliteOptions {
  /** Path of the database file; its folder is made where it is missing and `migrate` is true. */
  readonly file: string;
  /** True for the accepting process: make the file and bring its schema up to date. */
  readonly migrate: boolean;
  /** The file may not grow past this many bytes; then writing fails with code "full". Unset: as large as the disk. */
  readonly maxBytes?: number;
  /**
   * False for a writer that tells nobody "it is safe" and can do its work again (the evaluator, the demo's loader): a power cut may take
   * its last commits, never more and never half of one. True where it is left out: every commit is on disk before it is answered.
   */
  readonly acknowledges?: boolean;
  /** Commits what `append` is given in a thread of its own, for the process that takes in readings. */
  readonly appendThread?: StartAppendThread;
}

/** Opens the embedded store. Rejects with a StoreError naming file and remedy. */
export async function openSqlite(options: SqliteOptions): Promise<Store> {
  const file = resolve(options.file);
  const opened: BetterSqlite3.Database[] = [];
  const maxBytes = options.maxBytes ?? null;
  const open = (readonly: boolean) => {
    const acknowledges = options.acknowledges ?? true;
    const mustExist = readonly || !options.migrate;
    const connection = openConnection({ file, readonly, mustExist, maxBytes, acknowledges });
    opened.push(connection);
    return connection;
  };
  try {
    if (options.migrate) mkdirSync(dirname(file), { recursive: true });
    const writer = open(false);
    // From here `beginWriting` does the waiting.
    writer.pragma("busy_timeout = 0");
    await beginWriting(writer.prepare("begin immediate"));
    assertWritable(writer);
    writer.exec("rollback");
    checkSchemaVersion(sqliteSchemaVersion(writer), file, options.migrate);
    if (options.migrate) await migrateSqlite(writer, migrationsFolder("sqlite"));
    // Reads never wait behind an open write, and a read of several statements never holds single reads in the past.
    const [reader, snapshots] = [open(true), open(true)];
    const thread = options.appendThread?.({ file, maxBytes }) ?? null;
    return buildStore(sqliteEngine(file, writer, reader, snapshots, thread));
  } catch (error) {
    for (const connection of opened) connection.close();
    throw sqliteStoreError(error, file);
  }
}

function sqliteEngine(
  file: string,
  writer: BetterSqlite3.Database,
  reader: BetterSqlite3.Database,
  snapshots: BetterSqlite3.Database,
  thread: AppendThread | null,
): Engine {
  const tables = sqliteTables;
  const writing = new Queue();
  const looking = new Queue();
  const writeDatabase = sqliteDatabase(writer);
  const snapshotDatabase = sqliteDatabase(snapshots);
  const appendHere = batchAppender(writer);
  const appendBatch: AppendThread["append"] = (batch) =>
    // How far an import has come is worked out from the fates, which only this thread can do.
    thread === null || batch.importing
      ? appendHere({ ...batch, readings: columnsOf(batch.readings) })
      : thread.append(batch);
  const bulk = sqliteBulk(writer);
  const begin = writer.prepare("begin immediate");
  const commit = writer.prepare("commit");
  const rollback = writer.prepare("rollback");
  const beginSnapshot = snapshots.prepare("begin");
  const endSnapshot = snapshots.prepare("commit");
  const dataVersion = reader.prepare<[], number>("pragma data_version").pluck();

  const undo = () => {
    // SQLite itself rolls back on some errors (a full disk among them).
    if (writer.inTransaction) rollback.run();
  };

  return {
    dialect: "sqlite",
    tables,
    where: file,
    db: sqliteDatabase(reader),
    ...readingReads(reader),
    ...stretchTallies(reader),
    storeError: (error) => sqliteStoreError(error, file),
    append: (batch) =>
      writing.run(async () => {
        const { seq, received, fates } = await appendBatch(batch);
        return { seq, received, fates: fatesOf(fates, batch.readings.length) };
      }),
    atomically: (body) =>
      writing.run(async () => {
        await beginWriting(begin);
        try {
          const result = await body({ db: writeDatabase, ...bulk });
          commit.run();
          return result;
        } catch (error) {
          undo();
          throw error;
        }
      }),
    snapshot: (body) =>
      looking.run(async () => {
        beginSnapshot.run();
        try {
          return await body(snapshotDatabase);
        } finally {
          endSnapshot.run();
        }
      }),
    // The reading connection sees its value change with every commit of any other connection, the own writer's included.
    changeMark: async () => Number(dataVersion.get()),
    close: async () => {
      await looking.run(() => snapshots.close());
      await writing.run(async () => {
        await thread?.close();
        reader.close();
        writer.close();
      });
    },
  };
}
