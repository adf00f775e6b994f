import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Store } from "../../lib/store/port.ts";
import { openSqlite } from "../../lib/store/sqlite/open.ts";

export interface TemporaryStore {
  readonly store: Store;
  /** Path of the database file, to open it a second time or look inside. */
  readonly file: string;
  dispose(): Promise<void>;
}

/** A migrated, empty SQLite store in a folder of its own; `dispose` closes and removes it. */
export async function temporaryStore(): Promise<TemporaryStore> {
  const folder = await mkdtemp(join(tmpdir(), "homewater-store-"));
  const file = join(folder, "homewater.db");
  const store = await openSqlite({ file, migrate: true });
  return {
    store,
    file,
    async dispose() {
      await store.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
