import type BetterSqlite3 from "better-sqlite3";
import { readMigrationFiles } from "drizzle-orm/migrator";

/** The number of migrations that have run; 0 for an empty file. */
export function sqliteSchemaVersion(connection: BetterSqlite3.Database): number {
  const known = connection
    .prepare("select 1 from sqlite_master where type = 'table' and name = 'meta'")
    .get();
  if (known === undefined) return 0;
  return Number(connection.prepare("select value from meta where key = 'schema'").pluck().get() ?? 0);
}

/** Runs the migrations of a folder that have not run yet, each in its own transaction: whole or absent. */
export function migrateSqlite(connection: BetterSqlite3.Database, folder: string): void {
  const migrations = readMigrationFiles({ migrationsFolder: folder });
  migrations.forEach((migration, index) => {
    const version = index + 1;
    connection
      .transaction(() => {
        // Asked again inside: another process may have migrated while this one waited for the lock.
        if (sqliteSchemaVersion(connection) >= version) return;
        for (const statement of migration.sql) connection.exec(statement);
        connection
          .prepare(
            "insert into meta (key, value) values ('schema', ?) on conflict (key) do update set value = excluded.value",
          )
          .run(String(version));
      })
      .immediate();
  });
}
