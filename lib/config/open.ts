import type { Instant } from "../core/time/instant.ts";
import { openStore } from "../store/open.ts";
import type { Store } from "../store/port.ts";
import type { Settings } from "./env.ts";

/** What every edge is built from. */
export interface Dependencies {
  readonly store: Store;
  /** The wall clock, UTC milliseconds. */
  readonly clock: () => Instant;
}

/**
 * Opens what the settings name. `acknowledges: false` is for a process that can do its work again (see SqliteOptions). `migrate` is true
 * for the accepting process alone, which brings the schema up to date; the others
 * refuse one that is not. Rejects with a StoreError that names the store and the remedy.
 */
export async function openDependencies(
  settings: Pick<Settings, "databaseUrl">,
  options: { readonly migrate: boolean; readonly acknowledges?: boolean },
): Promise<Dependencies> {
  return { store: await openStore(settings.databaseUrl, options), clock: Date.now };
}
