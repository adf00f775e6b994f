import { copyFile, open, rename, rm, stat } from "node:fs/promises";
import { dirname } from "node:path";
import BetterSqlite3 from "better-sqlite3";
import type { BackupFacts } from "#core/upkeep/backup-run.ts";
import { StoreError } from "../port.ts";
import { SCHEMA_VERSION } from "../schema-version.ts";
import { sqliteStoreError } from "./errors.ts";
import { sqliteSchemaVersion } from "./migrate.ts";

/**
 * Copies a database in use into a new file, of one moment, and reads the copy whole. VACUUM INTO and not the stepped backup: that one starts
 * again whenever another process writes, and the evaluator always does. It reads a snapshot beside the writers, so none of them waits; it
 * blocks its own thread and belongs in a process of its own. Rejects with a StoreError; then there is no file `to`.
 */
export async function backUpSqlite(file: string, to: string): Promise<BackupFacts> {
  const partial = `${to}.partial`;
  await rm(partial, { force: true });
  try {
    const connection = new BetterSqlite3(file, { readonly: true, fileMustExist: true });
    try {
      connection.prepare("vacuum into ?").run(partial);
    } finally {
      connection.close();
    }
    const facts = await verifySqlite(partial);
    await syncToDisk(partial);
    await rename(partial, to);
    await syncToDisk(dirname(to));
    return facts;
  } catch (error) {
    await rm(partial, { force: true });
    throw sqliteStoreError(error, file);
  }
}

/** Reads a backup whole: the file's own integrity, its foreign keys, and whether the rows are as many as it says. Rejects with a StoreError. */
export async function verifySqlite(file: string): Promise<BackupFacts> {
  const refuse = (says: string): never => {
    throw new StoreError("invalid", `The file ${file} ${says}: take another backup.`);
  };
  const bytes = await stat(file).then(
    (found) => found.size,
    () => refuse("cannot be read"),
  );
  const connection = opened(file, refuse);
  try {
    const integrity = connection.pragma("integrity_check(1)", { simple: true });
    if (integrity !== "ok") refuse(`is damaged (${String(integrity)})`);
    if ((connection.pragma("foreign_key_check") as unknown[]).length > 0)
      refuse("has rows that refer to missing rows");
    const schema = sqliteSchemaVersion(connection);
    if (schema === 0) refuse("is not a Homewater database");
    if (schema > SCHEMA_VERSION) refuse(`has schema ${schema} but this program knows ${SCHEMA_VERSION}`);
    const number = (text: string) => Number(connection.prepare(text).pluck().get() ?? 0);
    const readings = number(
      schema < 3
        ? "select count(*) from reading"
        : "select count(*) from reading where source not in (select source from import_run where withdrawn is not null)",
    );
    const said = number("select value from counter where name = 'readings'");
    if (readings !== said) refuse(`holds ${readings} readings but its counter says ${said}`);
    const upTo = connection
      .prepare<[], number>("select received from journal order by seq desc limit 1")
      .pluck()
      .get();
    return { bytes, readings, upTo: upTo ?? null, schema };
  } catch (error) {
    if (error instanceof BetterSqlite3.SqliteError) refuse(`is damaged (${error.message})`);
    throw error;
  } finally {
    connection.close();
  }
}

function opened(file: string, refuse: (says: string) => never): BetterSqlite3.Database {
  try {
    const connection = new BetterSqlite3(file, { readonly: true, fileMustExist: true });
    connection.pragma("schema_version");
    return connection;
  } catch (error) {
    return refuse(`is not a database (${error instanceof Error ? error.message : String(error)})`);
  }
}

/**
 * Puts a verified backup in place of a database that nobody has open; what stood there is kept under the name that is answered (null where
 * nothing stood there). Rejects with a StoreError, and everything is as it was, where somebody has it open.
 */
export async function restoreSqlite(
  backup: string,
  file: string,
  stamp: string,
): Promise<{ facts: BackupFacts; aside: string | null }> {
  const facts = await verifySqlite(backup);
  const partial = `${file}.restoring`;
  const isThere = await stat(file).then(
    () => true,
    () => false,
  );
  if (isThere) closeLog(file);
  try {
    await copyFile(backup, partial);
    await syncToDisk(partial);
    const aside = isThere ? `${file}.before-restore-${stamp}` : null;
    if (aside !== null)
      for (const part of ["", "-wal", "-shm"]) await renameIfThere(`${file}${part}`, `${aside}${part}`);
    await rename(partial, file);
    await syncToDisk(dirname(file));
    return { facts, aside };
  } catch (error) {
    await rm(partial, { force: true });
    throw sqliteStoreError(error, file);
  }
}

/** Writes the log back into the file, so that it can be moved alone. SQLite lets only the last user of a database do that. */
function closeLog(file: string): void {
  const connection = new BetterSqlite3(file, { timeout: 1_000 });
  try {
    const mode = connection.pragma("journal_mode = delete", { simple: true });
    if (mode !== "delete") throw new Error("the log could not be closed");
  } catch (error) {
    // A file too damaged to be opened goes aside as it is, its log beside it: nobody can be using it.
    if (error instanceof BetterSqlite3.SqliteError && /^SQLITE_(NOTADB|CORRUPT|IOERR)/.test(error.code))
      return;
    throw new StoreError(
      "unavailable",
      `The database ${file} is in use: stop Homewater first, then restore.`,
      { cause: error },
    );
  } finally {
    connection.close();
  }
}

async function renameIfThere(from: string, to: string): Promise<void> {
  await rename(from, to).catch((error: NodeJS.ErrnoException) => {
    if (error.code !== "ENOENT") throw error;
  });
}

async function syncToDisk(path: string): Promise<void> {
  const handle = await open(path, "r");
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}
