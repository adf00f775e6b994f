import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { DISPLAY_COOKIE, type Guard, isLoopback, Unauthorised, whoAsks } from "#app/_server/guard.ts";
import { openAuth } from "#auth/open-auth.ts";
import { may } from "#core/people/index.ts";
import { DAY } from "#core/time/instant.ts";
import { AppError } from "#services/errors.ts";
import { uuidV7 } from "#services/new-id.ts";
import { hashOfToken } from "#services/people/tokens.ts";
import { type TemporaryStore, temporaryStore } from "#tests/helpers/open-store.ts";
import { cookieFor, makePerson } from "#tests/helpers/sign-in.ts";

const TOKEN = "0123456789abcdef";
const PLACE = { site: "site-1", system: "system-1" };
const from = (headers: Record<string, string>) => new Headers({ host: "localhost:3000", ...headers });

let empty: TemporaryStore;
let peopled: TemporaryStore;
let guard: Guard;
let firstRun: Guard;
let cookie: string;

function guardOver({ store }: TemporaryStore): Guard {
  const auth = openAuth({
    store,
    clock: Date.now,
    secret: "a secret for a test of guards, long",
    secure: false,
    newId: uuidV7,
  });
  return { settings: { apiToken: TOKEN, host: "127.0.0.1", publicUrl: null }, store, auth, clock: Date.now };
}
const on = (of: Guard, change: Partial<Guard["settings"]>): Guard => ({
  ...of,
  settings: { ...of.settings, ...change },
});

async function token(role: "viewer" | "technician", name: string, change: { expires?: number } = {}) {
  const now = Date.now();
  const audit = { at: now, actor: "t", actorId: "t", verb: "add-token", subject: name, record: {} };
  const row = {
    id: name,
    name,
    role,
    site: null,
    system: null,
    madeBy: "t",
    made: now,
    expires: now + DAY,
    revoked: null,
  };
  await peopled.store.addToken({ ...row, ...change, hash: hashOfToken(`hw_${name}`) }, audit);
  return `hw_${name}`;
}

beforeAll(async () => {
  [empty, peopled] = await Promise.all([temporaryStore(), temporaryStore()]);
  [firstRun, guard] = [guardOver(empty), guardOver(peopled)];
  await makePerson(peopled.store, guard.auth, "aquarist");
  cookie = await cookieFor(guard.auth, "aquarist");
});
afterAll(async () => {
  await Promise.all([empty.dispose(), peopled.dispose()]);
});

type Outcome = "ok" | 401 | 403;
async function expectOutcome(of: Guard, method: string, headers: Record<string, string>, outcome: Outcome) {
  const attempt = whoAsks(from(headers), method, of);
  if (outcome === "ok") return (await attempt).actor;
  await expect(attempt).rejects.toThrow(outcome === 401 ? Unauthorised : AppError);
  return undefined;
}

describe("with a token", () => {
  test("the server's own opens reading, recording and sending, from anywhere, but no people and no bands", async () => {
    const headers = from({ authorization: `Bearer ${TOKEN}`, host: "water.example" });
    const { actor, session } = await whoAsks(headers, "POST", on(guard, { host: "0.0.0.0" }));
    expect([actor.name, session]).toEqual(["API token", null]);
    for (const right of ["read", "record-bench", "send-readings"] as const)
      expect(may(actor.grants, right, PLACE)).toBe(true);
    for (const right of ["manage-people", "change-band"] as const)
      expect(may(actor.grants, right, PLACE)).toBe(false);
  });

  test("one made for a program opens its role until it runs out or is revoked", async () => {
    const sent = { authorization: `Bearer ${await token("viewer", "wall-1")}` };
    expect(await expectOutcome(guard, "GET", sent, "ok")).toMatchObject({ name: "wall-1", kind: "token" });
    const old = { authorization: `Bearer ${await token("viewer", "old", { expires: Date.now() - 1 })}` };
    await expectOutcome(guard, "GET", old, 401);
    const audit = { at: 0, actor: "t", actorId: "t", verb: "revoke-token", subject: "", record: {} };
    await peopled.store.revokeToken("wall-1", Date.now(), audit);
    await expectOutcome(guard, "GET", sent, 401);
  });

  test.each([
    ["a wrong one", `Bearer ${TOKEN}x`],
    ["a part of it", `Bearer ${TOKEN.slice(1)}`],
    ["an empty one", "Bearer "],
    ["another scheme", "Basic YTpi"],
    ["one that nobody made", "Bearer hw_nobody"],
  ])("%s is refused even on this machine and beside a session", async (_claim, authorization) => {
    for (const of of [guard, firstRun])
      await expectOutcome(of, "GET", { authorization, cookie, "sec-fetch-site": "same-origin" }, 401);
  });

  test("a token is refused where none is set", async () => {
    await expectOutcome(on(guard, { apiToken: null }), "GET", { authorization: `Bearer ${TOKEN}` }, 401);
  });
});

const OURS = { "sec-fetch-site": "same-origin", origin: "http://localhost:3000" };
describe("with a session", () => {
  test.each<[string, string, Record<string, string>, Outcome]>([
    ["a page of ours reads", "GET", { "sec-fetch-site": "same-origin" }, "ok"],
    ["a typed address reads", "GET", { "sec-fetch-site": "none", "sec-fetch-mode": "navigate" }, "ok"],
    ["another site's page does not read", "GET", { "sec-fetch-site": "cross-site" }, 403],
    ["a page of a sibling host does not read", "GET", { "sec-fetch-site": "same-site" }, 403],
    ["another origin does not read", "GET", { origin: "https://evil.example" }, 403],
    ["an origin of null does not read", "GET", { origin: "null" }, 403],
    ["a page of ours writes", "POST", OURS, "ok"],
    ["a page of ours in an old browser writes", "POST", { origin: "http://localhost:3000" }, "ok"],
    ["a post without a sign of where it comes from is refused", "POST", {}, 403],
    [
      "a post from another site is refused",
      "POST",
      { "sec-fetch-site": "cross-site", origin: "https://evil.example" },
      403,
    ],
    ["a post from another port of this machine is refused", "POST", { origin: "http://localhost:9999" }, 403],
    [
      "a post whose headers disagree is refused",
      "POST",
      { "sec-fetch-site": "same-origin", origin: "https://evil.example" },
      403,
    ],
  ])("%s", async (_claim, method, headers, outcome) => {
    const actor = await expectOutcome(guard, method, { ...headers, cookie }, outcome);
    if (outcome === "ok") expect(actor).toMatchObject({ name: "Test aquarist", kind: "person" });
  });

  test("holds on a server that listens to the network, behind the address people use", async () => {
    const wide = on(guard, { host: "0.0.0.0", publicUrl: "https://water.example" });
    const headers = { host: "10.0.0.5:3000", origin: "https://water.example", cookie };
    expect(await expectOutcome(wide, "POST", headers, "ok")).toMatchObject({ kind: "person" });
    await expectOutcome(wide, "POST", { ...headers, origin: "http://water.example" }, 403);
  });
});

describe("a wall display", () => {
  test("reads by its cookie and by no other role's token", async () => {
    const viewer = `${DISPLAY_COOKIE}=${await token("viewer", "wall-2")}`;
    const actor = await expectOutcome(
      guard,
      "GET",
      { cookie: viewer, "sec-fetch-site": "same-origin" },
      "ok",
    );
    expect(actor && may(actor.grants, "write-log", PLACE)).toBe(false);
    const technician = `${DISPLAY_COOKIE}=${await token("technician", "robot")}`;
    await expectOutcome(guard, "GET", { cookie: technician, "sec-fetch-site": "same-origin" }, 401);
  });
});

describe("without either", () => {
  test.each<[string, string, Record<string, string>]>([
    ["a page of ours", "GET", { "sec-fetch-site": "same-origin" }],
    ["a script on this machine", "GET", {}],
    ["a page of ours that writes", "POST", OURS],
  ])("%s is refused once somebody has an account", (_claim, method, headers) =>
    expectOutcome(guard, method, headers, 401).then(() => undefined),
  );

  test.each<[string, string, Record<string, string>, Outcome]>([
    ["this machine may look", "GET", {}, "ok"],
    ["a page of this machine may look", "GET", { "sec-fetch-site": "same-origin" }, "ok"],
    ["it may not write", "POST", OURS, 401],
    ["another site's page may not look", "GET", { "sec-fetch-site": "cross-site" }, 403],
    [
      "a name pointed at this machine may not look",
      "GET",
      { host: "evil.example", "sec-fetch-site": "same-origin" },
      401,
    ],
  ])("before that, %s", async (_claim, method, headers, outcome) => {
    const actor = await expectOutcome(firstRun, method, headers, outcome);
    if (outcome === "ok") expect(actor).toMatchObject({ kind: "first run", grants: [{ role: "viewer" }] });
  });

  test("before that, a server that listens to the network serves nobody, not even by a loopback name", () =>
    expectOutcome(on(firstRun, { host: "0.0.0.0" }), "GET", { "sec-fetch-site": "same-origin" }, 401).then(
      () => undefined,
    ));
});

test.each([
  ["localhost", true],
  ["localhost:3000", true],
  ["127.0.0.1:80", true],
  ["127.1.2.3", true],
  ["::1", true],
  ["[::1]:3000", true],
  ["0.0.0.0", false],
  ["192.168.1.4:3000", false],
  ["127.0.0.1.evil.example", false],
  ["localhost.evil.example", false],
  ["", false],
  [null, false],
])("%s is this machine: %s", (host, is) => expect(isLoopback(host)).toBe(is));
