import { readHomeWaterSeries } from "../../../../lib/services/home-water-file.ts";
import { addHomeWaterSeries } from "../../../../lib/services/home-water-plans.ts";
import { known, route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("homeWaterSeriesList", ({ deps }) => readHomeWaterSeries(deps.read));
export const POST = route("addHomeWaterSeries", ({ deps, actor, body }) =>
  addHomeWaterSeries(deps.write, known(actor), body),
);
