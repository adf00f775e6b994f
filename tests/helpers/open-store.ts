import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { Store } from "#store/port.ts";
import { openPostgres } from "#store/postgres/open.ts";
import { openSqlite, type SqliteOptions } from "#store/sqlite/open.ts";
import { type PostgresServer, startPostgres } from "./postgres-server.ts";
import { storeFolder } from "./store-folder.ts";

export interface TemporaryStore {
  readonly store: Store;
  /** Path of the database file, to open it a second time or look inside. */
  readonly file: string;
  dispose(): Promise<void>;
}

/** A file with the newest schema and nothing in it, made once in a test file: migrating takes longer than most tests. */
let migrated: Promise<Buffer> | undefined;

async function migrateOnce(): Promise<Buffer> {
  const folder = await mkdtemp(join(storeFolder(), "homewater-store-"));
  try {
    const file = join(folder, "homewater.db");
    const store = await openSqlite({ file, migrate: true });
    // The last connection to close brings everything into the one file.
    await store.close();
    return await readFile(file);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

/** A migrated, empty SQLite store in a folder of its own; `dispose` closes and removes it. */
export async function temporaryStore(
  options: Pick<SqliteOptions, "appendThread" | "maxBytes"> = {},
): Promise<TemporaryStore> {
  migrated ??= migrateOnce();
  const folder = await mkdtemp(join(storeFolder(), "homewater-store-"));
  const file = join(folder, "homewater.db");
  await writeFile(file, await migrated);
  const store = await openSqlite({ file, migrate: true, ...options });
  return {
    store,
    file,
    async dispose() {
      await store.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

export interface TemporaryPostgres {
  readonly store: Store;
  readonly url: string;
  readonly server: PostgresServer;
  dispose(): Promise<void>;
}

/** A migrated, empty store on a PostgreSQL server of its own; takes some seconds to start. */
export async function temporaryPostgres(): Promise<TemporaryPostgres> {
  const server = await startPostgres();
  const url = await server.createDatabase();
  const store = await openPostgres({ url, migrate: true });
  return {
    store,
    url,
    server,
    async dispose() {
      await store.close();
      await server.stop();
    },
  };
}
