import { setLightPlan } from "../../../../../../lib/services/light-plans.ts";
import { readLightPlans } from "../../../../../../lib/services/read-light-plans.ts";
import { known, route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("lightPlans", ({ deps, params }) => readLightPlans(deps.read, params.system ?? ""));
export const POST = route("setLightPlan", ({ deps, actor, params, body }) =>
  setLightPlan(deps.write, known(actor), params.system ?? "", body),
);
