import { readMigrationFiles } from "drizzle-orm/migrator";
import type pg from "pg";
import { BEGIN_MIGRATING } from "./locks.ts";
import { transact } from "./pool.ts";

/** The number of migrations that have run; 0 for an empty database. */
export async function postgresSchemaVersion(connection: pg.Pool | pg.PoolClient): Promise<number> {
  const known = await connection.query<{ found: boolean }>("select to_regclass('meta') is not null as found");
  if (known.rows[0]?.found !== true) return 0;
  const version = await connection.query<{ value: string }>("select value from meta where key = 'schema'");
  return Number(version.rows[0]?.value ?? 0);
}

/** Runs the migrations of a folder that have not run yet, each in its own transaction: whole or absent. */
export async function migratePostgres(pool: pg.Pool, folder: string): Promise<void> {
  let version = 0;
  for (const migration of readMigrationFiles({ migrationsFolder: folder })) {
    version += 1;
    const target = version;
    await transact(pool, BEGIN_MIGRATING, async (client) => {
      // Checked again inside: another process may have migrated while this one waited for the lock.
      if ((await postgresSchemaVersion(client)) >= target) return;
      for (const statement of migration.sql) await client.query(statement);
      await client.query(
        "insert into meta (key, value) values ('schema', $1) on conflict (key) do update set value = excluded.value",
        [String(target)],
      );
    });
  }
}
