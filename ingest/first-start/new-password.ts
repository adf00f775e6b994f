/** `npm run new-password`: a one-time password for somebody who cannot sign in, given by whoever works at this machine. */
import { readSettings, SettingsError } from "#config/env.ts";
import { firstAdministrator, openDependencies, openSigningIn } from "#config/open.ts";
import type { Actor } from "#services/deps.ts";
import { uuidV7 } from "#services/new-id.ts";
import { renewPassword } from "#services/people/people.ts";
import { createSetUpReader } from "#services/set-up.ts";
import { StoreError } from "#store/port.ts";

export interface NewPasswordEnvironment {
  readonly environment: Readonly<Record<string, string | undefined>>;
  /** Who is signed in at the machine: for the audit trail. */
  readonly user: string;
  /** One line each. */
  readonly out: (line: string) => void;
  readonly complain: (line: string) => void;
}

/**
 * Prints a new one-time password for one account and ends its sessions; `userName` may be left out where there is one account. Where nobody
 * has an account the first administrator is made. Resolves with the process's exit code.
 */
export async function runNewPassword(
  [userName, ...rest]: readonly string[],
  around: NewPasswordEnvironment,
): Promise<number> {
  if (rest.length > 0 || userName?.startsWith("-"))
    return refused(around, "Name one account, by its user name: npm run new-password -- USER");
  try {
    return await give(userName, around);
  } catch (error) {
    if (!(error instanceof SettingsError || error instanceof StoreError)) throw error;
    return refused(around, error.message);
  }
}

function refused({ complain }: NewPasswordEnvironment, says: string): number {
  complain(says);
  return 1;
}

async function give(userName: string | undefined, around: NewPasswordEnvironment): Promise<number> {
  const settings = readSettings(around.environment);
  const { store, clock } = await openDependencies(settings, { migrate: false });
  try {
    const deps = { store, clock, newId: uuidV7 };
    const first = await firstAdministrator(settings, deps);
    if (first) return shown(around, first.userName, first.password, first.expires);
    const people = await store.readPeople(clock());
    const found = userName === undefined ? people : people.filter((person) => person.userName === userName);
    const [person] = found;
    if (person === undefined || found.length > 1) {
      const names = people.map((each) => each.userName).join(", ");
      const wrong =
        userName === undefined ? "There are several accounts" : `No account has the name ${userName}`;
      return refused(around, `${wrong}: name one of ${names}.`);
    }
    if (person.disabled)
      return refused(
        around,
        `The account ${person.userName} is shut: an administrator opens it under People.`,
      );
    const signingIn = await openSigningIn(settings, deps);
    const actor: Actor = {
      ...{ id: "at-the-machine", name: `${around.user} at the machine`, kind: "person", mustChange: false },
      grants: [{ role: "administrator", site: null, system: null }],
    };
    const given = await renewPassword(
      { ...deps, ...signingIn, setUp: createSetUpReader(store, clock) },
      actor,
      person.id,
      {
        reason: "asked for at the machine",
      },
    );
    return shown(around, person.userName, given.oneTimePassword, given.expires);
  } finally {
    await store.close();
  }
}

function shown({ out }: NewPasswordEnvironment, userName: string, password: string, expires: number): number {
  out(`Sign in as ${userName} with the one-time password ${password}`);
  out(`before ${new Date(expires).toISOString()}. It replaces any earlier one and is shown only now.`);
  return 0;
}
