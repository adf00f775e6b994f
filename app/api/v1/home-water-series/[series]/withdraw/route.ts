import { known, route } from "#app/_server/route.ts";
import { withdrawHomeWaterSeries } from "#services/home-water/home-water-plans.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("withdrawHomeWaterSeries", ({ deps, actor, params }) =>
  withdrawHomeWaterSeries(deps.write, known(actor), params.series ?? ""),
);
