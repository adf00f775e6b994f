import { openStore } from "#store/open/open.ts";
import { startAppendThread } from "#store/sqlite/append-thread.ts";
import type { Settings } from "./env.ts";
import type { Dependencies } from "./open.ts";

/**
 * Opens what the settings name for the process that takes in readings: it brings the schema up to date, and the embedded store commits
 * in a thread of its own. Rejects with a StoreError that names the store and the remedy.
 */
export async function openAccepting(settings: Pick<Settings, "databaseUrl">): Promise<Dependencies> {
  const store = await openStore(settings.databaseUrl, { migrate: true, appendThread: startAppendThread });
  return { store, clock: Date.now };
}
