import { known, route } from "#app/_server/route.ts";
import { addPoint } from "#services/set-up/change-point.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("addPoint", ({ deps, actor, params, body }) =>
  addPoint(deps.write, known(actor), params.system ?? "", body),
);
