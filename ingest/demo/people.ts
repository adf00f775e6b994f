/** The demo's accounts: one for each role, named after it. */
import { randomBytes } from "node:crypto";
import { ROLES, type Role } from "#core/people/index.ts";
import type { Instant } from "#core/time/index.ts";
import type { Store } from "#store/port.ts";

export type DemoPasswords = Readonly<Record<string, string>>;

/** A password a role: the one given for all, else a random one each. */
export function newPasswords(given: string | null): DemoPasswords {
  return Object.fromEntries(ROLES.map((role) => [role, given ?? randomBytes(9).toString("base64url")]));
}

async function makePerson(
  store: Store,
  role: Role,
  passwordHash: string,
  id: string,
  now: Instant,
): Promise<void> {
  const grants = [{ role, site: null, system: null }];
  const person = {
    id,
    userName: role,
    name: `${role.charAt(0).toUpperCase()}${role.slice(1)} of the demo`,
    email: `${role}@pennacombe.invalid`,
    disabled: false,
    mustChange: false,
    oneTimeUntil: null,
    created: now,
    lastSignIn: null,
  };
  await store.writePerson({ person, grants, passwordHash }, now, {
    at: now,
    actor: "demo",
    actorId: "demo",
    verb: "invite-person",
    subject: `person:${id}`,
    record: { userName: role, grants },
  });
}

/** Makes the accounts that do not exist yet. Safe to repeat. */
export async function ensureDemoPeople(
  store: Store,
  passwords: DemoPasswords,
  hash: (password: string) => Promise<string>,
  newId: (now: Instant) => string,
): Promise<void> {
  for (const role of ROLES) {
    const password = passwords[role];
    const now = Date.now();
    if (password === undefined || (await store.readPerson({ userName: role }, now)) !== null) continue;
    await makePerson(store, role, await hash(password), newId(now), now);
  }
}
