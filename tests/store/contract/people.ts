import { expect, it } from "vitest";
import type { Store } from "#store/port.ts";
import { audit, person } from "./samples.ts";
import { eachWith, type OpenSubject, T } from "./subject.ts";

const GRANTS = [
  { role: "viewer" as const, site: null, system: null },
  { role: "aquarist" as const, site: null, system: "system-kelp" },
];
const session = (token: string, expiresAt = T + 1_000) => ({
  id: `session-${token}`,
  token,
  userId: "person-1",
  expiresAt,
  createdAt: T,
  updatedAt: T,
  ipAddress: null,
  userAgent: null,
});

export function describePeople(open: OpenSubject): void {
  const subject = eachWith(open);
  const write = (store: Store, change: Parameters<Store["writePerson"]>[0]) =>
    store.writePerson(change, T, audit("write-person"));

  it("writes a person with password and grants in one commit, and finds them by id, name and e-mail", async () => {
    const { store } = subject();
    expect(await store.hasPeople()).toBe(false);
    expect(await write(store, { person: person(), passwordHash: "hash", grants: GRANTS })).toBe(1);
    const whole = { ...person(), grants: GRANTS, sessions: 0 };
    expect(await store.hasPeople()).toBe(true);
    expect(await store.readPeople(T)).toEqual([whole]);
    for (const by of [{ id: "person-1" }, { userName: "ada" }, { email: "ada@example.invalid" }])
      expect(await store.readPerson(by, T)).toEqual(whole);
    expect(await store.readPerson({ userName: "bo" }, T)).toBeNull();
    expect(await store.readPasswordHash("person-1")).toBe("hash");
    expect(await store.readPasswordHash("person-2")).toBeNull();
    expect(await store.readAudit({ limit: 5 })).toHaveLength(1);
  });

  it("changes what is given and leaves the rest", async () => {
    const { store } = subject();
    await write(store, { person: person(), passwordHash: "hash", grants: GRANTS });
    await write(store, { person: person({ name: "Ada L.", mustChange: false, oneTimeUntil: null }) });
    expect(await store.readPerson({ id: "person-1" }, T)).toMatchObject({ name: "Ada L.", grants: GRANTS });
    expect(await store.readPasswordHash("person-1")).toBe("hash");
    await write(store, { person: person(), passwordHash: "other", grants: [] });
    expect(await store.readPerson({ id: "person-1" }, T)).toMatchObject({ grants: [], mustChange: true });
    expect(await store.readPasswordHash("person-1")).toBe("other");
  });

  it("refuses a user name and an e-mail that are taken, whole", async () => {
    const { store } = subject();
    await write(store, { person: person() });
    for (const twin of [
      person({ id: "person-2", email: "other@example.invalid" }),
      person({ id: "person-2", userName: "other" }),
    ])
      await expect(write(store, { person: twin, passwordHash: "x" })).rejects.toMatchObject({
        code: "invalid",
      });
    expect(await store.readPeople(T)).toHaveLength(1);
    expect(await store.readAudit({ limit: 5 })).toHaveLength(1);
  });

  it("ends sessions with the change, all or all but one, and moves the mark", async () => {
    const { store } = subject();
    await write(store, { person: person() });
    for (const token of ["one", "two", "three"]) await store.accounts.insert("session", session(token));
    await store.accounts.insert("session", session("old", T - 1));
    expect((await store.readPerson({ id: "person-1" }, T))?.sessions).toBe(3);
    const mark = await store.peopleMark();
    await write(store, { person: person(), endSessions: { but: "two" } });
    expect(await store.peopleMark()).toBeGreaterThan(mark);
    const left = await store.accounts.find("session", []);
    expect(left.map((row) => row.token)).toEqual(["two"]);
    await write(store, { person: person(), endSessions: "all" });
    expect(await store.accounts.count("session", [])).toBe(0);
  });

  it("keeps the session library's rows: finds, changes, counts and removes them by condition", async () => {
    const { store } = subject();
    await write(store, { person: person() });
    for (const [n, token] of ["a", "b", "c"].entries())
      await store.accounts.insert("session", session(token, T + n));
    const { accounts } = store;
    const where = (
      field: string,
      operator: "eq" | "ne" | "lt" | "lte" | "gt" | "gte",
      value: string | number | null,
    ) => [{ field, operator, value }];
    const tokens = async (...args: Parameters<typeof accounts.find>) =>
      (await accounts.find(...args)).map((row) => row.token);
    const sort = { field: "expiresAt", descending: true };
    expect(await tokens("session", where("expiresAt", "gt", T), { sort })).toEqual(["c", "b"]);
    expect(await tokens("session", where("expiresAt", "lte", T))).toEqual(["a"]);
    expect(await tokens("session", [], { sort, limit: 1, offset: 1 })).toEqual(["b"]);
    expect(await tokens("session", where("ipAddress", "eq", null), { sort })).toEqual(["c", "b", "a"]);
    expect(
      await tokens("session", [{ field: "token", operator: "in", value: ["a", "c"] }], { sort }),
    ).toEqual(["c", "a"]);
    expect(await accounts.update("session", where("token", "eq", "a"), { expiresAt: T + 99 })).toBe(1);
    expect((await accounts.find("session", where("token", "eq", "a")))[0]).toEqual(session("a", T + 99));
    expect(await accounts.find("user", where("username", "eq", "ada"))).toMatchObject([
      { id: "person-1", emailVerified: true, disabled: false },
    ]);
    const mark = await store.peopleMark();
    expect(await accounts.remove("session", where("token", "ne", "a"))).toBe(2);
    expect(await store.peopleMark()).toBeGreaterThan(mark);
    expect(await accounts.count("session", [])).toBe(1);
    await expect(accounts.find("session", where("colour", "eq", "red"))).rejects.toMatchObject({
      code: "invalid",
    });
    await expect(accounts.insert("session", { ...session("d"), colour: "red" })).rejects.toMatchObject({
      code: "invalid",
    });
  });

  it("finds a token by its hash until and after it is revoked", async () => {
    const { store } = subject();
    const token = {
      id: "token-1",
      name: "wall",
      hash: "abc",
      role: "viewer" as const,
      site: null,
      system: "system-kelp",
      madeBy: "Ada",
      made: T,
      expires: T + 9,
      revoked: null,
    };
    await store.addToken(token, audit("add-token"));
    expect(await store.tokenByHash("abc")).toEqual(token);
    expect(await store.tokenByHash("abd")).toBeNull();
    expect(await store.revokeToken("token-1", T + 5, audit("revoke-token"))).toBe(true);
    expect(await store.revokeToken("token-1", T + 6, audit("revoke-token"))).toBe(false);
    expect(await store.readTokens()).toEqual([{ ...token, revoked: T + 5 }]);
    expect(await store.readAudit({ limit: 5 })).toHaveLength(2);
  });

  it("counts attempts of each key until its window has passed or it is cleared", async () => {
    const { store } = subject();
    const counts = async (now: number) =>
      (await store.readAttempts(["a", "b"], now, 100)).map((row) => `${row.key}${row.count}`).sort();
    await store.addAttempt(["a", "b"], T, 100);
    await store.addAttempt(["a"], T + 50, 100);
    expect(await counts(T + 99)).toEqual(["a2", "b1"]);
    expect(await counts(T + 100)).toEqual([]);
    await store.addAttempt(["a"], T + 100, 100);
    expect(await counts(T + 101)).toEqual(["a1"]);
    await store.clearAttempts(["a"]);
    expect(await counts(T + 101)).toEqual([]);
  });
}
