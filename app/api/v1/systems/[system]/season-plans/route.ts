import { adoptSeasonPlan } from "../../../../../../lib/services/home-water-plans.ts";
import { known, route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("adoptSeason", ({ deps, actor, params, body }) =>
  adoptSeasonPlan(deps.write, known(actor), params.system ?? "", body),
);
