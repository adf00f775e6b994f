import { withdrawLightPlan } from "../../../../../../lib/services/light-plans.ts";
import { known, route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("withdrawLightPlan", ({ deps, actor, params, body }) =>
  withdrawLightPlan(deps.write, known(actor), params.plan ?? "", body),
);
