import { known, route } from "#app/_server/route.ts";
import { confirmBand } from "#services/habitat/compromises.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("confirmBand", ({ deps, actor, params, body }) =>
  confirmBand(deps.write, known(actor), params.system ?? "", body),
);
