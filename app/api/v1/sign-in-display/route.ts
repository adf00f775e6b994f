import { DISPLAY_COOKIE, demandOwnPage, isSecure, Unauthorised } from "#app/_server/guard.ts";
import { route } from "#app/_server/route.ts";
import { addressOf, meOf, tooMany, withCookies } from "#app/_server/sign-in.ts";
import { displayRequest } from "#contract/people.ts";
import { MINUTE } from "#core/time/instant.ts";
import { parse } from "#services/parse.ts";
import { actorOfToken } from "#services/people/tokens.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

const WINDOW = 15 * MINUTE;
const MOST = 20;
/** A year; the token's own end and its revoking count before that. */
const AGE_S = 31_536_000;

export const POST = route("signInDisplay", async ({ deps, body, request: { headers } }) => {
  demandOwnPage(headers, deps.guard.settings);
  const { token } = parse(displayRequest, body);
  const { store, clock } = deps.write;
  const now = clock();
  const key = `display:${addressOf(headers) ?? "unknown"}`;
  const [tried] = await store.readAttempts([key], now, WINDOW);
  if (tried && tried.count >= MOST) throw tooMany((tried.since + WINDOW - now) / 1_000);
  const actor = await actorOfToken(store, token, now);
  if (!actor?.grants.every((grant) => grant.role === "viewer")) {
    await store.addAttempt([key], now, WINDOW);
    throw new Unauthorised("This is no viewer's token that works on this server.");
  }
  const secure = isSecure(deps.guard.settings) ? "; Secure" : "";
  const cookie = `${DISPLAY_COOKIE}=${token}; Path=/; HttpOnly; SameSite=Lax; Max-Age=${AGE_S}${secure}`;
  return withCookies(await meOf(deps, actor, null), [cookie]);
});
