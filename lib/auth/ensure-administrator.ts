import type { Instant } from "#core/time/instant.ts";
import type { Store } from "#store/port.ts";
import { AUTH_LIMITS } from "./limits.ts";
import { oneTimePassword } from "./one-time-password.ts";
import type { Auth } from "./port.ts";

export interface FirstAdministrator {
  readonly userName: string;
  readonly password: string;
  readonly expires: Instant;
}

const USER_NAME = "administrator";

/**
 * The first account of a new Homewater: an administrator with a random password that works for some days and must be changed at the first
 * sign-in. Made where nobody has an account, made again where the only account was never used and its password ran out; null otherwise.
 * The command that starts Homewater prints it; it is kept nowhere else.
 */
export async function ensureAdministrator(
  deps: { readonly store: Store; readonly clock: () => Instant; readonly newId: (now: Instant) => string },
  hash: Auth["hash"],
): Promise<FirstAdministrator | null> {
  const { store, clock, newId } = deps;
  const now = clock();
  const people = await store.readPeople(now);
  const [only] = people;
  const ranOut =
    people.length === 1 && only?.lastSignIn === null && only.mustChange && (only.oneTimeUntil ?? 0) <= now;
  if (people.length > 0 && !ranOut) return null;
  const password = oneTimePassword();
  const expires = now + AUTH_LIMITS.oneTimeMs;
  const id = only?.id ?? newId(now);
  const person = {
    id,
    userName: only?.userName ?? USER_NAME,
    name: only?.name ?? "Administrator",
    email: only?.email ?? `${USER_NAME}@homewater.invalid`,
    disabled: false,
    mustChange: true,
    oneTimeUntil: expires,
    created: only?.created ?? now,
    lastSignIn: null,
  };
  const grants = [{ role: "administrator" as const, site: null, system: null }];
  await store.writePerson({ person, grants, passwordHash: await hash(password), endSessions: "all" }, now, {
    at: now,
    actor: "first run",
    actorId: "first-run",
    verb: "invite-person",
    subject: `person:${id}`,
    record: { userName: person.userName, grants, expires },
  });
  return { userName: person.userName, password, expires };
}
