import { known, route } from "#app/_server/route.ts";
import { withdrawLightPlan } from "#services/home-water/light-plans.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("withdrawLightPlan", ({ deps, actor, params, body }) =>
  withdrawLightPlan(deps.write, known(actor), params.plan ?? "", body),
);
