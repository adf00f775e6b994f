import { known, route } from "#app/_server/route.ts";
import { addToken, readTokens } from "#services/people/tokens.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("tokens", ({ deps, actor }) => readTokens(deps.write, known(actor)));
export const POST = route("addToken", ({ deps, actor, body }) => addToken(deps.write, known(actor), body));
