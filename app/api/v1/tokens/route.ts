import { addToken, readTokens } from "../../../../lib/services/tokens.ts";
import { known, route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("tokens", ({ deps, actor }) => readTokens(deps.write, known(actor)));
export const POST = route("addToken", ({ deps, actor, body }) => addToken(deps.write, known(actor), body));
