import { withdrawHomeWaterSeries } from "../../../../../../lib/services/home-water-plans.ts";
import { known, route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("withdrawHomeWaterSeries", ({ deps, actor, params }) =>
  withdrawHomeWaterSeries(deps.write, known(actor), params.series ?? ""),
);
