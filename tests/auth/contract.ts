import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { ensureAdministrator } from "#auth/ensure-administrator.ts";
import { openAuth } from "#auth/open-auth.ts";
import type { Auth } from "#auth/port.ts";
import type { Person } from "#core/people/person.ts";
import { DAY, HOUR, MINUTE } from "#core/time/instant.ts";
import { uuidV7 } from "#services/new-id.ts";
import type { Store } from "#store/port.ts";
import type { OpenSubject, Subject } from "../store/contract/subject.ts";

const PASSWORD = "three slow urchins";

const cookieOf = (cookies: readonly string[]): Headers =>
  new Headers({ cookie: cookies.map((cookie) => cookie.split(";")[0]).join("; ") });

/** What signing in must do, whatever the store stands on. */
export function describeAuth(name: string, open: OpenSubject): void {
  describe(name, () => {
    let subject: Subject;
    let store: Store;
    let auth: Auth;
    let shift = 0;
    const clock = () => Date.now() + shift;
    const opened = (secure: boolean, of: Store) =>
      openAuth({ store: of, clock, secret: "a secret of a test, thirty-two signs", secure, newId: uuidV7 });

    beforeAll(async () => {
      subject = await open();
      store = subject.store;
      auth = opened(false, store);
    });
    afterAll(async () => {
      await subject.dispose();
    });

    async function person(userName: string, change: Partial<Person> = {}): Promise<Person> {
      const now = clock();
      const row: Person = {
        id: `id-${userName}`,
        userName,
        name: userName.toUpperCase(),
        email: `${userName}@homewater.invalid`,
        disabled: false,
        mustChange: false,
        oneTimeUntil: null,
        created: now,
        lastSignIn: null,
        ...change,
      };
      const audit = {
        at: now,
        actor: "test",
        actorId: "test",
        verb: "invite",
        subject: row.id,
        record: null,
      };
      const passwordHash = await auth.hash(PASSWORD);
      await store.writePerson(
        { person: row, passwordHash, grants: [{ role: "viewer", site: null, system: null }] },
        now,
        audit,
      );
      return row;
    }
    const signIn = (name: string, password = PASSWORD, address: string | null = "192.0.2.7") =>
      auth.signIn({ name, password, address, userAgent: "test" });
    async function cookies(name: string): Promise<readonly string[]> {
      const outcome = await signIn(name);
      if (!outcome.ok) throw new Error(`${name} was refused: ${outcome.why}`);
      return outcome.cookies;
    }

    it("lets in by user name or e-mail address, in any case, and knows the session again from another process", async () => {
      await person("ada");
      for (const said of ["ada", "ADA", " ada@homewater.invalid "]) {
        const outcome = await signIn(said);
        expect(outcome).toMatchObject({
          ok: true,
          person: { userName: "ada", grants: [{ role: "viewer" }] },
        });
      }
      const headers = cookieOf(await cookies("ada"));
      const elsewhere = opened(false, await subject.another());
      expect(await elsewhere.sessionOf(headers)).toMatchObject({ person: { userName: "ada" } });
      expect((await store.readPerson({ userName: "ada" }, clock()))?.sessions).toBe(4);
      expect(await auth.isPassword("id-ada", PASSWORD)).toBe(true);
      expect(await auth.isPassword("id-ada", `${PASSWORD}s`)).toBe(false);
    });

    it("gives a cookie that scripts and other sites do not get, bound to the host over https", async () => {
      await person("host");
      const [plain] = await cookies("host");
      expect(plain).toMatch(/^homewater-session=[^;]+; .*Path=\/; HttpOnly; SameSite=Lax/);
      expect(plain).not.toMatch(/Secure|Domain/i);
      const secure = opened(true, store);
      const outcome = await secure.signIn({
        name: "host",
        password: PASSWORD,
        address: null,
        userAgent: null,
      });
      const [cookie] = outcome.ok ? outcome.cookies : [];
      expect(cookie).toMatch(/^__Host-homewater-session=[^;]+;.*Secure/);
      expect(cookie).not.toMatch(/Domain/i);
      const token = decodeURIComponent(/=([^;]+)/.exec(cookie ?? "")?.[1] ?? "").split(".")[0] ?? "";
      // At least 128 random bits (ASVS 7.2.3): 32 signs of a 62-sign alphabet are 190.
      expect(token.length).toBeGreaterThanOrEqual(32);
      expect(await secure.sessionOf(cookieOf(outcome.ok ? outcome.cookies : []))).not.toBeNull();
    });

    it("does not take a cookie that was not signed here", async () => {
      await person("forged");
      const [cookie = ""] = await cookies("forged");
      const [named = ""] = cookie.split(";");
      const broken = `${named.slice(0, -6)}AAAAAA`;
      expect(await auth.sessionOf(new Headers({ cookie: broken }))).toBeNull();
      const other = openAuth({
        store,
        clock,
        secret: "another secret of thirty-two signs",
        secure: false,
        newId: uuidV7,
      });
      expect(await other.sessionOf(new Headers({ cookie: named }))).toBeNull();
      expect(await auth.sessionOf(new Headers())).toBeNull();
    });

    it("ends a session on the server when its owner signs out; the cookie is dead and taken away", async () => {
      await person("leaver");
      const headers = cookieOf(await cookies("leaver"));
      expect(await auth.sessionOf(headers)).not.toBeNull();
      const taken = await auth.signOut(headers);
      expect(taken.some((cookie) => /^homewater-session=;.*Max-Age=0/.test(cookie))).toBe(true);
      expect(await auth.sessionOf(headers)).toBeNull();
      expect((await store.readPerson({ userName: "leaver" }, clock()))?.sessions).toBe(0);
    });

    it("ends every session at once when the person is disabled, though they were remembered", async () => {
      const row = await person("gone");
      const headers = cookieOf(await cookies("gone"));
      expect(await auth.sessionOf(headers)).not.toBeNull();
      const audit = { at: clock(), actor: "t", actorId: "t", verb: "disable", subject: row.id, record: null };
      await store.writePerson({ person: { ...row, disabled: true } }, clock(), audit);
      expect(await auth.sessionOf(headers)).toBeNull();
      expect(await signIn("gone")).toEqual({ ok: false, why: "wrong" });
    });

    it("sees a changed grant at once in a running session", async () => {
      const row = await person("risen");
      const headers = cookieOf(await cookies("risen"));
      expect((await auth.sessionOf(headers))?.person.grants).toMatchObject([{ role: "viewer" }]);
      const audit = { at: clock(), actor: "t", actorId: "t", verb: "grants", subject: row.id, record: null };
      await store.writePerson({ person: row, grants: [] }, clock(), audit);
      expect((await auth.sessionOf(headers))?.person.grants).toEqual([]);
    });

    it("ends a session that was not used for its idle time, and any at its absolute end", async () => {
      await person("idler");
      const idle = cookieOf(await cookies("idler"));
      shift = auth.limits.idleMs - MINUTE;
      expect(await auth.sessionOf(idle)).not.toBeNull();
      shift = 2 * auth.limits.idleMs - 2 * MINUTE;
      expect(await auth.sessionOf(idle)).not.toBeNull();
      shift = 3 * auth.limits.idleMs;
      expect(await auth.sessionOf(idle)).toBeNull();
      shift = 0;
      expect(await auth.sessionOf(idle)).toBeNull();
      const used = cookieOf(await cookies("idler"));
      for (shift = 0; shift < auth.limits.absoluteMs; shift += 11 * HOUR)
        expect(await auth.sessionOf(used)).not.toBeNull();
      shift = auth.limits.absoluteMs + MINUTE;
      expect(await auth.sessionOf(used)).toBeNull();
      shift = 0;
    });

    it("says the same of a wrong name as of a wrong password", async () => {
      await person("known");
      expect(await signIn("known", "not this one")).toEqual(await signIn("unknown", "not this one"));
      expect(await signIn("unknown@example.invalid", PASSWORD)).toEqual({ ok: false, why: "wrong" });
      expect(await signIn("known", "x".repeat(1_000))).toEqual({ ok: false, why: "wrong" });
    });

    it("stops after ten failures for an account, the right password too, until the window has passed", async () => {
      await person("guessed");
      for (let n = 0; n < auth.limits.attemptsAnAccount; n += 1)
        expect(await signIn("guessed", `wrong ${n}`, null)).toEqual({ ok: false, why: "wrong" });
      const stopped = await signIn("guessed", PASSWORD, null);
      expect(stopped).toMatchObject({ ok: false, why: "too many" });
      expect(!stopped.ok && stopped.why === "too many" && stopped.retryAfterSeconds).toBeGreaterThan(600);
      expect((await signIn("known", PASSWORD, null)).ok).toBe(true);
      shift = auth.limits.windowMs + 1_000;
      expect((await signIn("guessed", PASSWORD, null)).ok).toBe(true);
      shift = 0;
    });

    it("stops an address that tries many names", async () => {
      const tight = openAuth({
        store,
        clock,
        secret: "a secret of a test, thirty-two signs",
        secure: false,
        newId: uuidV7,
        limits: { attemptsAnAddress: 3 },
      });
      const from = (name: string, address: string) =>
        tight.signIn({ name, password: "no", address, userAgent: null });
      for (const name of ["n1", "n2", "n3"]) await from(name, "198.51.100.1");
      expect(await from("n4", "198.51.100.1")).toMatchObject({ why: "too many" });
      expect(await from("n4", "198.51.100.2")).toEqual({ ok: false, why: "wrong" });
    });

    it("lets a one-time password in for a short while after its first use and not past its end", async () => {
      await person("new", { mustChange: true, oneTimeUntil: clock() + auth.limits.oneTimeMs });
      const first = await signIn("new");
      expect(first).toMatchObject({ ok: true, person: { mustChange: true } });
      shift = auth.limits.oneTimeAfterUseMs - MINUTE;
      expect((await signIn("new")).ok).toBe(true);
      shift = auth.limits.oneTimeAfterUseMs + MINUTE;
      expect(await signIn("new")).toEqual({ ok: false, why: "wrong" });
      shift = 0;
    });

    it("writes signing in and refusals into the audit trail, without what was typed", async () => {
      const rows = await store.readAudit({ limit: 500 });
      const of = (verb: string) => rows.filter((row) => row.verb === verb);
      expect(of("sign-in").length).toBeGreaterThan(5);
      expect(of("sign-in-refused").length).toBeGreaterThan(5);
      expect(JSON.stringify(rows)).not.toContain(PASSWORD);
      expect(JSON.stringify(rows)).not.toContain("not this one");
      expect(await store.verifyAudit()).toMatchObject({ broken: null });
    });

    it("makes the first administrator once, again only where its password ran out unused", async () => {
      const fresh = await open();
      try {
        const deps = { store: fresh.store, clock, newId: uuidV7 };
        const first = await ensureAdministrator(deps, auth.hash);
        expect(first).toMatchObject({ userName: "administrator" });
        expect(first?.password).toMatch(/^[a-z2-9]{5}(-[a-z2-9]{5}){3}$/);
        expect(await ensureAdministrator(deps, auth.hash)).toBeNull();
        shift = 4 * DAY;
        const second = await ensureAdministrator(deps, auth.hash);
        expect(second?.password).not.toBe(first?.password);
        const there = opened(false, fresh.store);
        const enter = (password: string) =>
          there.signIn({ name: "administrator", password, address: null, userAgent: null });
        expect(await enter(first?.password ?? "")).toEqual({ ok: false, why: "wrong" });
        expect(await enter(second?.password ?? "")).toMatchObject({ ok: true, person: { mustChange: true } });
        shift = 9 * DAY;
        expect(await ensureAdministrator(deps, auth.hash)).toBeNull();
        expect(await fresh.store.readPeople(clock())).toMatchObject([
          { grants: [{ role: "administrator" }] },
        ]);
      } finally {
        shift = 0;
        await fresh.dispose();
      }
    });
  });
}
