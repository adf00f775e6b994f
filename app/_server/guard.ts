import { createHash, timingSafeEqual } from "node:crypto";
import type { Actor } from "../../lib/services/deps.ts";
import { AppError } from "../../lib/services/errors.ts";

/** Nobody said who they are, or the token is wrong: answered with 401 and how to do it. */
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
}

const TOKEN: Actor = { name: "API token", may: new Set(["read", "record"]) };
/** Whoever sits at the machine that Homewater runs on, before people log in. */
const DESK: Actor = { name: "desk", may: new Set(["read", "record"]) };

const WITH_TOKEN = "Send the header Authorization: Bearer followed by the token in HOMEWATER_API_TOKEN.";

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

function isOwnOrigin(headers: Headers): boolean {
  const origin = headers.get("origin");
  const host = headers.get("host");
  return origin !== null && host !== null && URL.canParse(origin) && new URL(origin).host === host;
}

/** Another site's page asks through a visitor's browser: it says so in Sec-Fetch-Site, or its Origin is not ours. */
function isForeign(headers: Headers): boolean {
  const site = headers.get("sec-fetch-site");
  if (headers.has("origin") && !isOwnOrigin(headers)) return true;
  if (site === null || site === "same-origin") return false;
  return !(site === "none" && headers.get("sec-fetch-mode") === "navigate");
}

function byToken(authorization: string, settings: GuardSettings): Actor {
  const sent = /^Bearer +(\S+)$/i.exec(authorization)?.[1];
  if (sent === undefined)
    throw new Unauthorised(`The Authorization header is not a bearer token. ${WITH_TOKEN}`);
  if (settings.apiToken === null)
    throw new Unauthorised("No token is set on this server: set HOMEWATER_API_TOKEN and start it again.");
  if (!isToken(sent, settings.apiToken))
    throw new Unauthorised(`The token is not the one set on this server. ${WITH_TOKEN}`);
  return TOKEN;
}

/**
 * Who asks and may go on. A bearer token opens everything from anywhere. Without one only this machine is served (server and Host both
 * loopback, so that a name pointed at 127.0.0.1 does not pass): reading unless another site's page asks, writing only for a page of ours,
 * proven by Sec-Fetch-Site or Origin and refused where both are absent. Throws Unauthorised (401) or AppError "forbidden" (403).
 */
export function guard(headers: Headers, method: string, settings: GuardSettings): Actor {
  const authorization = headers.get("authorization");
  if (authorization !== null) return byToken(authorization, settings);
  if (isForeign(headers)) throw new AppError("forbidden", "A page of another site may not ask this server.");
  if (!isLoopback(settings.host) || !isLoopback(headers.get("host"))) throw new Unauthorised(WITH_TOKEN);
  if (method === "GET" || method === "HEAD") return DESK;
  const proven = headers.get("sec-fetch-site") === "same-origin" || isOwnOrigin(headers);
  if (!proven) throw new Unauthorised(`Only a page of this server may write without a token. ${WITH_TOKEN}`);
  return DESK;
}
