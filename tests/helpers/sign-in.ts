/** People and sessions for tests: an account with a role, signed in as a browser would be. */

import { openAuth } from "#auth/open-auth.ts";
import type { Auth } from "#auth/port.ts";
import type { Role } from "#core/people/index.ts";
import { uuidV7 } from "#services/new-id.ts";
import type { Store } from "#store/port.ts";

export const TEST_PASSWORD = "seven quiet limpets";

/** Makes an account named after its role (or another user name) for everything, or for one system by its id. */
export async function makePerson(
  store: Store,
  auth: Pick<Auth, "hash">,
  role: Role,
  given: { readonly userName?: string; readonly system?: string; readonly now?: number } = {},
): Promise<{ readonly id: string; readonly userName: string }> {
  const { userName = role, system = null, now = Date.now() } = given;
  const id = `person-${userName}`;
  const person = {
    id,
    userName,
    name: `Test ${userName}`,
    email: `${userName}@homewater.invalid`,
    disabled: false,
    mustChange: false,
    oneTimeUntil: null,
    created: now,
    lastSignIn: null,
  };
  const grants = [{ role, site: null, system }];
  const audit = { at: now, actor: "test", actorId: "test", verb: "invite-person", subject: id, record: {} };
  await store.writePerson({ person, grants, passwordHash: await auth.hash(TEST_PASSWORD) }, now, audit);
  return { id, userName };
}

/** The cookie header of a new session of somebody with the test's password. */
export async function cookieFor(auth: Auth, userName: string): Promise<string> {
  const outcome = await auth.signIn({
    name: userName,
    password: TEST_PASSWORD,
    address: null,
    userAgent: "test",
  });
  if (!outcome.ok) throw new Error(`${userName} was refused: ${outcome.why}`);
  return outcome.cookies.map((cookie) => cookie.split(";")[0]).join("; ");
}

/** Hashes as the product does; hashing needs no secret, so this one stands for none. */
export const hasherOver = (store: Store): Pick<Auth, "hash"> =>
  openAuth({
    store,
    clock: Date.now,
    secret: "only for hashing, not for cookies",
    secure: false,
    newId: uuidV7,
  });

/**
 * For a dashboard that runs or will run over this store: an account for each role, user name and role the same. Sign in over HTTP with
 * `signInOver`, or at the page with TEST_PASSWORD.
 */
export async function makePeople(store: Store, roles: readonly Role[]): Promise<void> {
  for (const role of roles) await makePerson(store, hasherOver(store), role);
}

/** Signs in at a running dashboard; gives name and value of the session cookie, as a browser context takes them. */
export async function signInOver(
  url: string,
  userName: string,
): Promise<{ readonly name: string; readonly value: string; readonly url: string }> {
  const answer = await fetch(`${url}/api/v1/sign-in`, {
    method: "POST",
    headers: { "content-type": "application/json", origin: new URL(url).origin },
    body: JSON.stringify({ name: userName, password: TEST_PASSWORD }),
  });
  const [cookie] = answer.headers.getSetCookie();
  const [, name, value] = /^([^=]+)=([^;]*)/.exec(cookie ?? "") ?? [];
  if (!answer.ok || name === undefined || value === undefined)
    throw new Error(`${userName} could not sign in at ${url}: ${answer.status} ${await answer.text()}`);
  return { name, value, url };
}
