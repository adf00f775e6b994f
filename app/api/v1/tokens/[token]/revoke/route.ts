import { revokeToken } from "../../../../../../lib/services/tokens.ts";
import { known, route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("revokeToken", ({ deps, actor, params }) =>
  revokeToken(deps.write, known(actor), params.token ?? ""),
);
