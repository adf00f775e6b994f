import { createHash, timingSafeEqual } from "node:crypto";
import type { Auth, OpenSession } from "#auth/port.ts";
import type { Instant } from "#core/time/instant.ts";
import type { Actor } from "#services/deps.ts";
import { AppError } from "#services/errors.ts";
import { actorOfToken } from "#services/people/tokens.ts";
import type { Store } from "#store/port.ts";

/** Nobody said who they are, or what they said is wrong: answered with 401 and how to do it. */
export class Unauthorised extends Error {
  constructor(message: string) {
    super(message);
    this.name = "Unauthorised";
  }
}

export interface GuardSettings {
  readonly apiToken: string | null;
  /** The address this server listens on. */
  readonly host: string;
  /** The address people use, where it is another one (a proxy in front). */
  readonly publicUrl: string | null;
}
export interface Guard {
  readonly settings: GuardSettings;
  readonly store: Store;
  readonly auth: Auth;
  readonly clock: () => Instant;
}
export interface Who {
  readonly actor: Actor;
  /** Of the browser that asks; null for tokens. */
  readonly session: OpenSession | null;
}

const everywhere = (role: "viewer" | "technician") => [{ role, site: null, system: null }];
/** The token of the environment: what a gateway, a script and a technician may do. */
const TOKEN: Actor = {
  id: "environment-token",
  name: "API token",
  kind: "token",
  grants: everywhere("technician"),
  mustChange: false,
};
/** Whoever sits at the machine that Homewater runs on, before anybody has an account: may look. */
const FIRST_RUN: Actor = {
  id: "first-run",
  name: "first run",
  kind: "first run",
  grants: everywhere("viewer"),
  mustChange: false,
};
/** A wall display's cookie: a token of the role viewer, given at /sign-in. */
export const DISPLAY_COOKIE = "homewater-display";

const HOW = "Sign in, or send the header Authorization: Bearer followed by a token.";

/** Compares digests, so that neither content nor length of the token shows in the time it takes. */
function isToken(sent: string, token: string): boolean {
  const digest = (text: string) => createHash("sha256").update(text).digest();
  return timingSafeEqual(digest(sent), digest(token));
}

/** A name or address of this very machine, with or without a port. */
export function isLoopback(host: string | null): boolean {
  if (
    host === null ||
    !URL.canParse(`http://${host.includes("::") && !host.startsWith("[") ? `[${host}]` : host}`)
  )
    return false;
  const name = new URL(`http://${host.includes("::") && !host.startsWith("[") ? `[${host}]` : host}`)
    .hostname;
  return name === "localhost" || name === "[::1]" || /^127(?:\.\d{1,3}){3}$/.test(name);
}

function isOwnOrigin(headers: Headers, settings: GuardSettings): boolean {
  const origin = headers.get("origin");
  const host = headers.get("host");
  if (origin === null || !URL.canParse(origin)) return false;
  if (settings.publicUrl !== null && new URL(origin).origin === new URL(settings.publicUrl).origin)
    return true;
  return host !== null && new URL(origin).host === host;
}

/** Another site's page asks through a visitor's browser: it says so in Sec-Fetch-Site, or its Origin is not ours. */
function isForeign(headers: Headers, settings: GuardSettings): boolean {
  const site = headers.get("sec-fetch-site");
  if (headers.has("origin") && !isOwnOrigin(headers, settings)) return true;
  if (site === null || site === "same-origin") return false;
  return !(site === "none" && headers.get("sec-fetch-mode") === "navigate");
}

async function byToken(authorization: string, { settings, store, clock }: Guard): Promise<Actor> {
  const sent = /^Bearer +(\S+)$/i.exec(authorization)?.[1];
  if (sent === undefined) throw new Unauthorised(`The Authorization header is not a bearer token. ${HOW}`);
  if (settings.apiToken !== null && isToken(sent, settings.apiToken)) return TOKEN;
  const actor = await actorOfToken(store, sent, clock());
  if (actor === null) throw new Unauthorised(`The token is not one that works on this server. ${HOW}`);
  return actor;
}

function cookieOf(headers: Headers, name: string): string | undefined {
  const found = (headers.get("cookie") ?? "").split(/;\s*/).find((part) => part.startsWith(`${name}=`));
  return found?.slice(name.length + 1);
}

/** The viewer's token a wall display carries; any other role in a cookie would be a session nobody can end by leaving. */
async function ofDisplay(headers: Headers, { store, clock }: Guard): Promise<Actor | null> {
  const token = cookieOf(headers, DISPLAY_COOKIE);
  const actor = token === undefined ? null : await actorOfToken(store, token, clock());
  return actor?.grants.every((grant) => grant.role === "viewer") ? actor : null;
}

export const personOf = ({ id, name, grants, mustChange }: OpenSession["person"]): Actor => ({
  id,
  name,
  kind: "person",
  grants,
  mustChange,
});

/** People reach this over https: cookies are sent over nothing else. */
export const isSecure = ({ publicUrl }: GuardSettings): boolean => publicUrl?.startsWith("https:") ?? false;

/** Throws unless a state change is proven to come from a page of ours: Origin and Sec-Fetch-Site both absent is not proof. */
export function demandOwnPage(headers: Headers, settings: GuardSettings): void {
  if (isForeign(headers, settings))
    throw new AppError("forbidden", "A page of another site may not ask this server.");
  const proven = headers.get("sec-fetch-site") === "same-origin" || isOwnOrigin(headers, settings);
  if (!proven)
    throw new AppError("forbidden", `Only a page of this server may write without a token. ${HOW}`);
}

const reads = (method: string) => method === "GET" || method === "HEAD";

/**
 * Who asks. A bearer token from anywhere; else a session's or a wall display's cookie, never through another site's page, and for writing
 * only from a page of ours. While nobody has an account, this machine itself (server and Host both loopback, so that a name pointed at
 * 127.0.0.1 does not pass) may look. Throws Unauthorised (401) or AppError "forbidden" (403); a check that fails refuses.
 */
export async function whoAsks(headers: Headers, method: string, guard: Guard): Promise<Who> {
  const authorization = headers.get("authorization");
  if (authorization !== null) return { actor: await byToken(authorization, guard), session: null };
  if (isForeign(headers, guard.settings))
    throw new AppError("forbidden", "A page of another site may not ask this server.");
  const session = await guard.auth.sessionOf(headers);
  const actor = session ? personOf(session.person) : await ofDisplay(headers, guard);
  if (actor) {
    if (!reads(method)) demandOwnPage(headers, guard.settings);
    return { actor, session };
  }
  const isHere = isLoopback(guard.settings.host) && isLoopback(headers.get("host"));
  if (isHere && reads(method) && !(await guard.store.hasPeople())) return { actor: FIRST_RUN, session: null };
  throw new Unauthorised(HOW);
}
