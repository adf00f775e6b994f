import { afterAll, beforeAll, describe } from "vitest";
import type { Store } from "#store/port.ts";
import { openPostgres } from "#store/postgres/open.ts";
import { temporaryStore } from "./open-store.ts";
import { type PostgresServer, postgresMissing, startPostgres } from "./postgres-server.ts";

/** Opens a migrated, empty store of its own. */
export type OpenStore = () => Promise<{ readonly store: Store; dispose(): Promise<void> }>;

const missing = await postgresMissing();

/** The same suite over a SQLite file and over a PostgreSQL server of its own; skipped with the reason where there can be none. */
export function inEachStore(
  what: string,
  suites: { readonly sqlite: (open: OpenStore) => void; readonly postgres: (open: OpenStore) => void },
): void {
  describe(`${what} in SQLite`, () => {
    suites.sqlite(async () => {
      const { store, dispose } = await temporaryStore();
      return { store, dispose };
    });
  });
  describe.skipIf(missing !== null)(
    `${what} in PostgreSQL${missing === null ? "" : ` (skipped: ${missing})`}`,
    () => {
      let server: PostgresServer;
      beforeAll(async () => {
        server = await startPostgres();
      });
      afterAll(async () => {
        await server.stop();
      });
      suites.postgres(async () => {
        const store = await openPostgres({ url: await server.createMigrated(), migrate: false });
        return { store, dispose: () => store.close() };
      });
    },
  );
}
