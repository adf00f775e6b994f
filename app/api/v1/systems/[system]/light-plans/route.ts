import { known, route } from "#app/_server/route.ts";
import { setLightPlan } from "#services/home-water/light-plans.ts";
import { readLightPlans } from "#services/home-water/read-light-plans.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("lightPlans", ({ deps, params }) => readLightPlans(deps.read, params.system ?? ""));
export const POST = route("setLightPlan", ({ deps, actor, params, body }) =>
  setLightPlan(deps.write, known(actor), params.system ?? "", body),
);
