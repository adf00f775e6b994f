import { known, route } from "#app/_server/route.ts";
import { signCompromise } from "#services/habitat/compromises.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("signCompromise", ({ deps, actor, params, body }) =>
  signCompromise(deps.write, known(actor), params.system ?? "", body),
);
