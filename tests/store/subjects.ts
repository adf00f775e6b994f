import type { Store } from "#store/port.ts";
import { openPostgres } from "#store/postgres/open.ts";
import { openSqlite } from "#store/sqlite/open.ts";
import { temporaryStore } from "../helpers/open-store.ts";
import type { PostgresServer } from "../helpers/postgres-server.ts";
import type { Subject } from "./contract/subject.ts";

/** A SQLite file of its own. */
export async function sqliteSubject(): Promise<Subject> {
  const temporary = await temporaryStore();
  return withOthers(
    temporary.store,
    () => openSqlite({ file: temporary.file, migrate: false }),
    () => temporary.dispose(),
  );
}

/** A database of its own on a running server. */
export async function postgresSubject(server: PostgresServer): Promise<Subject> {
  const url = await server.createMigrated();
  const store = await openPostgres({ url, migrate: false, connections: 3 });
  return withOthers(
    store,
    () => openPostgres({ url, migrate: false, connections: 3 }),
    () => store.close(),
  );
}

function withOthers(store: Store, open: () => Promise<Store>, dispose: () => Promise<void>): Subject {
  const others: Store[] = [];
  return {
    store,
    async another() {
      const other = await open();
      others.push(other);
      return other;
    },
    async dispose() {
      for (const other of others) await other.close();
      await dispose();
    },
  };
}
