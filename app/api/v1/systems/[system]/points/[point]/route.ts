import { known, route } from "#app/_server/route.ts";
import { changePoint } from "#services/set-up/change-point.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("changePoint", ({ deps, actor, params, body }) =>
  changePoint(deps.write, known(actor), params.system ?? "", params.point ?? "", body),
);
