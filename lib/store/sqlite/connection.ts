import BetterSqlite3 from "better-sqlite3";
import { StoreError } from "../port.ts";

export interface ConnectionOptions {
  readonly file: string;
  readonly readonly: boolean;
  readonly mustExist: boolean;
  /** The file may not grow past this; null = as large as the disk. */
  readonly maxBytes: number | null;
  /** A sender is told that a commit is safe, so it must be on disk by then, whatever happens to the power. */
  readonly acknowledges: boolean;
}

/** How long a statement waits for another process before it gives up. */
export const BUSY_MS = 5_000;
// 4 MiB of log at the usual page size of 4 KiB: fewer checkpoints under a steady stream, a log that stays small.
const CHECKPOINT_PAGES = 1_024;
const LOG_LIMIT_BYTES = 64 * 1_024 * 1_024;

/** Opens one connection with everything that durability rests on set and read back. */
export function openConnection(options: ConnectionOptions): BetterSqlite3.Database {
  const connection = new BetterSqlite3(options.file, {
    timeout: BUSY_MS,
    readonly: options.readonly,
    fileMustExist: options.mustExist,
  });
  try {
    if (!options.readonly) prepareForWriting(connection, options);
    connection.pragma("foreign_keys = ON");
    connection.pragma("temp_store = MEMORY");
    connection.pragma("cache_size = -16000");
    return connection;
  } catch (error) {
    connection.close();
    throw error;
  }
}

function prepareForWriting(connection: BetterSqlite3.Database, options: ConnectionOptions): void {
  const mode = connection.pragma("journal_mode = WAL", { simple: true });
  if (mode !== "wal") {
    assertWritable(connection);
    throw new StoreError(
      "unavailable",
      `The database ${options.file} cannot use a write-ahead log (journal mode is ${mode}): keep it on a local disk.`,
    );
  }
  // better-sqlite3 is compiled to fall back to synchronous=NORMAL on the first use after the switch to WAL, which may lose
  // acknowledged commits on power failure. So: use it once, then set FULL, then see that it held.
  connection.prepare("select count(*) from sqlite_master").get();
  connection.pragma(`synchronous = ${options.acknowledges ? "FULL" : "NORMAL"}`);
  connection.pragma(`wal_autocheckpoint = ${CHECKPOINT_PAGES}`);
  connection.pragma(`journal_size_limit = ${LOG_LIMIT_BYTES}`);
  if (options.maxBytes !== null) {
    const pageSize = Number(connection.pragma("page_size", { simple: true }));
    connection.pragma(`max_page_count = ${Math.max(1, Math.floor(options.maxBytes / pageSize))}`);
  }
  if (options.acknowledges) assertDurable(connection, options.file);
}

/**
 * Throws SQLite's own refusal where the file may only be read: opening silently falls back to reading, and so does
 * `begin immediate`. Nothing is changed. The caller holds the write lock, or is the first to open the file.
 */
export function assertWritable(connection: BetterSqlite3.Database): void {
  const version = Number(connection.pragma("user_version", { simple: true }));
  connection.exec(`savepoint probe; pragma user_version = ${version}; rollback to probe; release probe`);
}

/** Throws where a commit would not be on disk before it is acknowledged. */
export function assertDurable(connection: BetterSqlite3.Database, file: string): void {
  const synchronous = Number(connection.pragma("synchronous", { simple: true }));
  if (synchronous !== 2) {
    throw new StoreError(
      "unavailable",
      `The database ${file} runs with synchronous=${synchronous} instead of 2 (FULL): commits could be lost on power failure.`,
    );
  }
}
