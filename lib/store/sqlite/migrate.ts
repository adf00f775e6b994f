import type BetterSqlite3 from "better-sqlite3";
import { readMigrationFiles } from "drizzle-orm/migrator";
import { beginWriting } from "./begin.ts";

/** The number of migrations that have run; 0 for an empty file. */
export function sqliteSchemaVersion(connection: BetterSqlite3.Database): number {
  const known = connection
    .prepare("select 1 from sqlite_master where type = 'table' and name = 'meta'")
    .get();
  if (known === undefined) return 0;
  return Number(connection.prepare("select value from meta where key = 'schema'").pluck().get() ?? 0);
}

/** Runs the migrations of a folder that have not run yet, each in its own transaction: whole or absent. */
export async function migrateSqlite(connection: BetterSqlite3.Database, folder: string): Promise<void> {
  const begin = connection.prepare("begin immediate");
  let version = 0;
  for (const migration of readMigrationFiles({ migrationsFolder: folder })) {
    version += 1;
    if (sqliteSchemaVersion(connection) >= version) continue;
    await beginWriting(begin);
    try {
      // Checked again inside: another process may have migrated while this one waited for the lock.
      if (sqliteSchemaVersion(connection) < version) run(connection, migration.sql, version);
      connection.exec("commit");
    } catch (error) {
      if (connection.inTransaction) connection.exec("rollback");
      throw error;
    }
  }
}

function run(connection: BetterSqlite3.Database, statements: readonly string[], version: number): void {
  for (const statement of statements) connection.exec(statement);
  connection
    .prepare(
      "insert into meta (key, value) values ('schema', ?) on conflict (key) do update set value = excluded.value",
    )
    .run(String(version));
}
