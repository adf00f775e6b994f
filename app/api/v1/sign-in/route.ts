import { demandOwnPage, personOf, Unauthorised } from "#app/_server/guard.ts";
import { route } from "#app/_server/route.ts";
import { addressOf, meOf, tooMany, withCookies } from "#app/_server/sign-in.ts";
import { signInRequest } from "#contract/people.ts";
import { parse } from "#services/parse.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("signIn", async ({ deps, body, request: { headers } }) => {
  demandOwnPage(headers, deps.guard.settings);
  const { name, password } = parse(signInRequest, body);
  const sent = { name, password, address: addressOf(headers), userAgent: headers.get("user-agent") };
  const outcome = await deps.auth.signIn(sent);
  if (!outcome.ok && outcome.why === "too many") throw tooMany(outcome.retryAfterSeconds);
  if (!outcome.ok)
    throw new Unauthorised(
      "Name or password is wrong, the account is shut, or a one-time password has run out.",
    );
  const { person } = outcome;
  return withCookies(await meOf(deps, personOf(person), person.userName), outcome.cookies);
});
