import { known, route } from "#app/_server/route.ts";
import { revokeToken } from "#services/people/tokens.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("revokeToken", ({ deps, actor, params }) =>
  revokeToken(deps.write, known(actor), params.token ?? ""),
);
