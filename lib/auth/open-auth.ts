import { betterAuth } from "better-auth";
import { hashPassword, verifyPassword } from "better-auth/crypto";
import { username } from "better-auth/plugins/username";
import type { PersonWithGrants } from "#core/people/person.ts";
import type { Instant } from "#core/time/instant.ts";
import type { Store } from "#store/port.ts";
import { AUTH_LIMITS } from "./limits.ts";
import type { Auth, AuthLimits, OpenSession, SignInOutcome } from "./port.ts";
import { rowsAdapter } from "./rows-adapter.ts";

export interface AuthOptions {
  readonly store: Store;
  readonly clock: () => Instant;
  /** Signs cookies; the same for every copy of the dashboard. */
  readonly secret: string;
  /** People reach this over https: the cookie is Secure and bound to this host (__Host-). */
  readonly secure: boolean;
  readonly newId: (now: Instant) => string;
  readonly limits?: Partial<AuthLimits>;
}

/** Nobody can have this name: it is longer than any may be. */
const NOBODY = `nobody-${"x".repeat(33)}`;
/** A session is looked up again after this long even where nobody's rights have changed. */
const REMEMBERED_MS = 30_000;
const MOST_REMEMBERED = 2_000;

function library({ store, secret, secure, newId, clock }: AuthOptions, limits: AuthLimits) {
  const cookie = secure ? "__Host-homewater-session" : "homewater-session";
  return betterAuth({
    appName: "Homewater",
    // Only read to make addresses for mail, of which there is none.
    baseURL: "http://localhost",
    secret,
    telemetry: { enabled: false },
    logger: { disabled: true },
    database: rowsAdapter(store.accounts),
    // Lengths and words are the product's own rule (lib/services/people/password-fault.ts), so that one rule holds everywhere.
    emailAndPassword: { enabled: true, disableSignUp: true, minPasswordLength: 1, maxPasswordLength: 1_000 },
    plugins: [
      username({
        displayUsername: false,
        minUsernameLength: 2,
        maxUsernameLength: 40,
        usernameValidator: () => true,
      }),
    ],
    session: { expiresIn: Math.floor(limits.absoluteMs / 1_000), disableSessionRefresh: true },
    // Attempts are counted in the store, for all copies of the dashboard.
    rateLimit: { enabled: false },
    advanced: {
      // The library's own prefix is __Secure-; __Host- binds the cookie to this very host.
      useSecureCookies: false,
      cookies: {
        session_token: { name: cookie, attributes: { secure, httpOnly: true, sameSite: "lax", path: "/" } },
      },
      database: { generateId: () => newId(clock()) },
    },
  });
}

const cookiesOf = (headers: Headers): string[] => headers.getSetCookie();

/** Signing in over the store's rows: passwords by scrypt, sessions as rows, so that ending one is removing it. */
export function openAuth(options: AuthOptions): Auth {
  const { store, clock } = options;
  const limits = { ...AUTH_LIMITS, ...options.limits };
  const auth = library(options, limits);
  const remembered = new Map<string, { session: OpenSession; mark: number; at: Instant }>();

  async function waitFor(keys: readonly { key: string; most: number }[], now: Instant): Promise<number> {
    const found = await store.readAttempts(
      keys.map((each) => each.key),
      now,
      limits.windowMs,
    );
    const over = found.filter((row) => row.count >= (keys.find((each) => each.key === row.key)?.most ?? 0));
    return Math.max(0, ...over.map((row) => Math.ceil((row.since + limits.windowMs - now) / 1_000)));
  }

  const mayEnter = (person: PersonWithGrants, now: Instant) =>
    !person.disabled && !(person.mustChange && person.oneTimeUntil !== null && now >= person.oneTimeUntil);

  async function entered(person: PersonWithGrants, now: Instant): Promise<PersonWithGrants> {
    const { grants: _grants, sessions: _sessions, ...row } = person;
    const cut = row.mustChange
      ? Math.min(row.oneTimeUntil ?? Infinity, now + limits.oneTimeAfterUseMs)
      : null;
    const change = { ...row, lastSignIn: now, oneTimeUntil: cut };
    await store.writePerson({ person: change }, now, {
      at: now,
      actor: person.name,
      actorId: person.id,
      verb: "sign-in",
      subject: `person:${person.id}`,
      record: { userName: person.userName },
    });
    return { ...person, ...change };
  }

  async function signIn(sent: Parameters<Auth["signIn"]>[0]): Promise<SignInOutcome> {
    const now = clock();
    const name = sent.name.trim().toLowerCase();
    const keys = [
      { key: `account:${name}`.slice(0, 200), most: limits.attemptsAnAccount },
      ...(sent.address === null
        ? []
        : [{ key: `address:${sent.address}`.slice(0, 200), most: limits.attemptsAnAddress }]),
    ];
    const retryAfterSeconds = await waitFor(keys, now);
    if (retryAfterSeconds > 0) return { ok: false, why: "too many", retryAfterSeconds };
    const person = await store.readPerson(name.includes("@") ? { email: name } : { userName: name }, now);
    const known = person && mayEnter(person, now) ? person : null;
    const headers = new Headers(
      sent.userAgent === null ? {} : { "user-agent": sent.userAgent.slice(0, 200) },
    );
    const body = { username: known?.userName ?? NOBODY.slice(0, 40), password: sent.password };
    const done = await auth.api
      .signInUsername({ body, headers, returnHeaders: true })
      .catch((error: unknown) => {
        if (isRefusal(error)) return null;
        throw error;
      });
    if (!done || !known) {
      await store.addAttempt(
        keys.map((each) => each.key),
        now,
        limits.windowMs,
        {
          at: now,
          actor: person?.name ?? "unknown",
          actorId: person?.id ?? "unknown",
          verb: "sign-in-refused",
          subject: person ? `person:${person.id}` : "person:unknown",
          record: { address: sent.address },
        },
      );
      return { ok: false, why: "wrong" };
    }
    await store.clearAttempts(keys.slice(0, 1).map((each) => each.key));
    return { ok: true, person: await entered(known, now), cookies: cookiesOf(done.headers) };
  }

  async function look(headers: Headers, now: Instant): Promise<OpenSession | null> {
    const found = await auth.api.getSession({
      headers,
      query: { disableRefresh: true, disableCookieCache: true },
    });
    if (!found) return null;
    const { token, createdAt, updatedAt, userId } = found.session;
    const where = [{ field: "token", operator: "eq", value: token }] as const;
    const isOver =
      now - updatedAt.getTime() >= limits.idleMs || now - createdAt.getTime() >= limits.absoluteMs;
    const person = isOver ? null : await store.readPerson({ id: userId }, now);
    if (!person || person.disabled) {
      await store.accounts.remove("session", where);
      return null;
    }
    if (now - updatedAt.getTime() >= REMEMBERED_MS)
      await store.accounts.update("session", where, { updatedAt: now });
    return { token, person, begun: createdAt.getTime() };
  }

  async function sessionOf(headers: Headers): Promise<OpenSession | null> {
    const cookie = headers.get("cookie");
    if (cookie === null || !cookie.includes("homewater-session=")) return null;
    const now = clock();
    const mark = await store.peopleMark();
    const kept = remembered.get(cookie);
    if (kept && kept.mark === mark && now >= kept.at && now - kept.at < REMEMBERED_MS) return kept.session;
    remembered.delete(cookie);
    const session = await look(new Headers({ cookie }), now);
    if (session) {
      if (remembered.size >= MOST_REMEMBERED) remembered.clear();
      remembered.set(cookie, { session, mark, at: now });
    }
    return session;
  }

  return {
    limits,
    signIn,
    sessionOf,
    signOut: async (headers) => {
      const cookie = headers.get("cookie");
      const { headers: answered } = await auth.api.signOut({
        headers: new Headers(cookie === null ? {} : { cookie }),
        returnHeaders: true,
      });
      return cookiesOf(answered);
    },
    hash: (password) => hashPassword(password),
    isPassword: async (id, password) => {
      const hash = await store.readPasswordHash(id);
      return hash !== null && (await verifyPassword({ hash, password }));
    },
  };
}

/** The library throws an error with a 4xx status where name or password is wrong. */
function isRefusal(error: unknown): boolean {
  const status = error instanceof Error && "statusCode" in error ? Number(error.statusCode) : 0;
  return status >= 400 && status < 500;
}
