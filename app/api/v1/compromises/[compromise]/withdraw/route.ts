import { known, route } from "#app/_server/route.ts";
import { withdrawCompromise } from "#services/habitat/withdraw-compromise.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("withdrawCompromise", ({ deps, actor, params, body }) =>
  withdrawCompromise(deps.write, known(actor), params.compromise ?? "", body),
);
