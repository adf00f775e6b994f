import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { oneTimePassword } from "#auth/one-time-password.ts";
import { openAuth } from "#auth/open-auth.ts";
import type { Auth } from "#auth/port.ts";
import { invitedView, peopleView, tokensView } from "#contract/people.ts";
import { DAY } from "#core/time/instant.ts";
import type { Actor } from "#services/deps.ts";
import { uuidV7 } from "#services/new-id.ts";
import { changeOwnPassword } from "#services/people/change-own-password.ts";
import {
  disablePerson,
  enablePerson,
  endSessions,
  invitePerson,
  type PeopleDeps,
  readPeople,
  renewPassword,
  setGrants,
} from "#services/people/people.ts";
import { actorOfToken, addToken, readTokens, revokeToken } from "#services/people/tokens.ts";
import { actorWith, openWorld, system, type World } from "../world.ts";

const BOSS = actorWith("administrator", "boss");
const NEXT = "three slow urchins";
let world: World;
let auth: Auth;
let deps: PeopleDeps;
beforeEach(async () => {
  world = await openWorld([system("reef")]);
  world.now = Date.now();
  const clock = () => world.now;
  auth = openAuth({
    store: world.store,
    clock,
    secret: "a secret for this test, long enough",
    secure: false,
    newId: uuidV7,
  });
  deps = { ...world.write, auth, oneTimePassword };
});
afterEach(() => world.dispose());

const invite = (userName: string, change: object = {}) =>
  invitePerson(deps, BOSS, {
    userName,
    name: `Person ${userName}`,
    grants: [{ role: "aquarist", system: "reef" }],
    ...change,
  });
const enter = (name: string, password: string) =>
  auth.signIn({ name, password, address: null, userAgent: null });
async function sessionFor(name: string, password: string) {
  const outcome = await enter(name, password);
  if (!outcome.ok) throw new Error(outcome.why);
  const headers = new Headers({ cookie: outcome.cookies.map((cookie) => cookie.split(";")[0]).join("; ") });
  return { headers, session: await auth.sessionOf(headers), person: outcome.person };
}
const actorOf = (person: { id: string; name: string; mustChange: boolean }): Actor => ({
  ...actorWith("viewer", person.name),
  ...person,
});

describe("somebody invited", () => {
  test("comes in once with the password that was shown, chooses their own, and their other sessions end", async () => {
    const invited = await invite("ada");
    expect(invitedView.parse(invited)).toEqual(invited);
    expect(invited.person).toMatchObject({
      email: null,
      mustChangePassword: true,
      grants: [{ role: "aquarist", system: "reef", site: null }],
    });
    const first = await sessionFor("ada", invited.oneTimePassword);
    const other = await sessionFor("ada", invited.oneTimePassword);
    const body = { current: invited.oneTimePassword, next: NEXT };
    await changeOwnPassword(deps, actorOf(first.person), first.session?.token ?? "", body);
    expect(await auth.sessionOf(first.headers)).toMatchObject({ person: { mustChange: false } });
    expect(await auth.sessionOf(other.headers)).toBeNull();
    expect(await enter("ada", invited.oneTimePassword)).toEqual({ ok: false, why: "wrong" });
    expect((await enter("ada", NEXT)).ok).toBe(true);
  });

  test.each([
    ["too short", "short", "has 5 characters", /^use at least 8/],
    ["among the first that are tried", "password1", "is one of the first that attackers try", /^use several/],
    ["their own name", "Person ada", "is the person's own name", /^use several/],
  ])("does not get past with a password that is %s", async (_claim, next, says, remedy) => {
    const { person, oneTimePassword: current } = await invite("ada");
    const actor = actorOf({ ...person, mustChange: true });
    await expect(changeOwnPassword(deps, actor, "", { current, next })).rejects.toMatchObject({
      issues: [{ field: "next", value: null, says, remedy: expect.stringMatching(remedy) }],
    });
  });

  test("is stopped after ten wrong guesses at their own password", async () => {
    const { person } = await invite("ada");
    const actor = actorOf({ ...person, mustChange: true });
    for (let n = 0; n < 10; n += 1)
      await expect(
        changeOwnPassword(deps, actor, "", { current: `no ${n}`, next: NEXT }),
      ).rejects.toMatchObject({ code: "invalid" });
    await expect(changeOwnPassword(deps, actor, "", { current: "no", next: NEXT })).rejects.toMatchObject({
      code: "too_many",
    });
  });

  test("with a name that is taken, a role for a place there is not, or one twice, is refused by name", async () => {
    await invite("ada");
    await expect(invite("ada")).rejects.toMatchObject({ code: "conflict" });
    await expect(invite("Bo Bo")).rejects.toMatchObject({ issues: [{ field: "userName" }] });
    for (const [grants, field] of [
      [[{ role: "viewer", system: "moon" }], "grants.0.system"],
      [[{ role: "viewer", site: "harbour", system: "reef" }], "grants.0.site"],
      [[{ role: "viewer" }, { role: "viewer" }], "grants.1"],
      [[{ role: "king" }], "grants.0.role"],
    ] as const)
      await expect(invite("bo", { grants })).rejects.toMatchObject({ issues: [{ field }] });
  });
});

test("disabling ends sessions at once, enabling opens the account again, a new password is for one use", async () => {
  await invite("second", { grants: [{ role: "administrator" }] });
  const { person, oneTimePassword: password } = await invite("ada");
  const { headers } = await sessionFor("ada", password);
  expect(await disablePerson(deps, BOSS, person.id, { reason: "left the house" })).toMatchObject({
    disabled: true,
    sessions: 0,
  });
  expect(await auth.sessionOf(headers)).toBeNull();
  expect((await enter("ada", password)).ok).toBe(false);
  await enablePerson(deps, BOSS, person.id, {});
  expect((await enter("ada", password)).ok).toBe(true);
  const renewed = await renewPassword(deps, BOSS, person.id, {});
  expect((await enter("ada", password)).ok).toBe(false);
  expect(await enter("ada", renewed.oneTimePassword)).toMatchObject({
    ok: true,
    person: { mustChange: true },
  });
  const view = await readPeople(deps, BOSS);
  expect(peopleView.parse(view)).toEqual(view);
  const { records } = { records: JSON.stringify(await world.store.readAudit({ limit: 50 })) };
  for (const secret of [password, renewed.oneTimePassword]) expect(records).not.toContain(secret);
});

test("everybody may end their own sessions, nobody but an administrator another's", async () => {
  await invite("second", { grants: [{ role: "administrator" }] });
  const { person, oneTimePassword: password } = await invite("ada");
  const { headers } = await sessionFor("ada", password);
  const ada = actorOf({ ...person, mustChange: false });
  await expect(endSessions(deps, { ...ada, id: "somebody" }, person.id, {})).rejects.toMatchObject({
    code: "forbidden",
  });
  expect(await endSessions(deps, ada, person.id, {})).toMatchObject({ sessions: 0 });
  expect(await auth.sessionOf(headers)).toBeNull();
});

test("the last administrator is neither disabled nor robbed of the role", async () => {
  const { person } = await invite("only", { grants: [{ role: "administrator" }] });
  await expect(disablePerson(deps, BOSS, person.id, {})).rejects.toMatchObject({ code: "conflict" });
  await expect(setGrants(deps, BOSS, person.id, { grants: [{ role: "curator" }] })).rejects.toMatchObject({
    code: "conflict",
  });
  await invite("second", { grants: [{ role: "administrator" }] });
  expect(await setGrants(deps, BOSS, person.id, { grants: [{ role: "curator" }] })).toMatchObject({
    grants: [{ role: "curator" }],
  });
});

test("a token is shown once, kept as a hash, and works until it is revoked or runs out", async () => {
  const { token, view } = await addToken(world.write, BOSS, {
    name: "hall wall",
    role: "viewer",
    system: "reef",
    days: 2,
  });
  const list = await readTokens(world.write, BOSS);
  expect(tokensView.parse(list)).toEqual({ tokens: [view] });
  expect(JSON.stringify(await world.store.readTokens())).not.toContain(token);
  const works = () => actorOfToken(world.store, token, world.now);
  expect(await works()).toMatchObject({
    name: "hall wall",
    kind: "token",
    grants: [{ role: "viewer", system: "s-reef" }],
  });
  world.now += 2 * DAY;
  expect(await works()).toBeNull();
  world.now -= DAY;
  await revokeToken(world.write, BOSS, view.id);
  expect(await works()).toBeNull();
  await expect(addToken(world.write, BOSS, { name: "root", role: "administrator" })).rejects.toMatchObject({
    issues: [{ field: "role" }],
  });
});
