import { known, route } from "#app/_server/route.ts";
import { adoptSeasonPlan } from "#services/home-water/home-water-plans.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("adoptSeason", ({ deps, actor, params, body }) =>
  adoptSeasonPlan(deps.write, known(actor), params.system ?? "", body),
);
