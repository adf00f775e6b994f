import { setLightPlan } from "../../../../../../lib/services/home-water-plans.ts";
import { known, route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("setLightPlan", ({ deps, actor, params, body }) =>
  setLightPlan(deps.write, known(actor), params.system ?? "", body),
);
