import { ensureAdministrator, type FirstAdministrator } from "#auth/ensure-administrator.ts";
import { oneTimePassword } from "#auth/one-time-password.ts";
import { openAuth } from "#auth/open-auth.ts";
import type { Auth } from "#auth/port.ts";
import { openClimatology } from "#climate/open.ts";
import type { Instant } from "#core/time/instant.ts";
import { openStore } from "#store/open/open.ts";
import type { Store } from "#store/port.ts";
import type { Settings } from "./env.ts";
import { openLibrary } from "./profile-library.ts";
import { readSecret } from "./secret.ts";

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

/** Signing in over a store; over https where the address people use says so. */
export async function openSigningIn(
  settings: Pick<Settings, "secretFile" | "http">,
  deps: Dependencies & { readonly newId: (now: Instant) => string },
): Promise<{ readonly auth: Auth; readonly oneTimePassword: () => string }> {
  const secret = await readSecret(settings.secretFile);
  const secure = settings.http.publicUrl?.startsWith("https:") ?? false;
  return { auth: openAuth({ ...deps, secret, secure }), oneTimePassword };
}

/** The first account of a new Homewater, to be printed; null where somebody has one (see ensureAdministrator). */
export async function firstAdministrator(
  settings: Pick<Settings, "secretFile" | "http">,
  deps: Parameters<typeof openSigningIn>[1],
): Promise<FirstAdministrator | null> {
  const { auth } = await openSigningIn(settings, deps);
  return ensureAdministrator(deps, auth.hash);
}

export { openClimatology, openLibrary };
