import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Store } from "#store/port.ts";
import { openPostgres } from "#store/postgres/open.ts";
import { openSqlite, type SqliteOptions } from "#store/sqlite/open.ts";
import { type PostgresServer, startPostgres } from "./postgres-server.ts";

export interface TemporaryStore {
  readonly store: Store;
  /** Path of the database file, to open it a second time or look inside. */
  readonly file: string;
  dispose(): Promise<void>;
}

/** A migrated, empty SQLite store in a folder of its own; `dispose` closes and removes it. */
export async function temporaryStore(
  options: Pick<SqliteOptions, "appendThread" | "maxBytes"> = {},
): Promise<TemporaryStore> {
  const folder = await mkdtemp(join(tmpdir(), "homewater-store-"));
  const file = join(folder, "homewater.db");
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
