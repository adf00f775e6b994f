import { known, route } from "#app/_server/route.ts";
import { changeStage } from "#services/habitat/residents.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("changeStage", ({ deps, actor, params, body }) =>
  changeStage(deps.write, known(actor), params.stay ?? "", body),
);
