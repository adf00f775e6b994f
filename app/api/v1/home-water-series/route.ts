import { known, route } from "#app/_server/route.ts";
import { readHomeWaterSeries } from "#services/home-water/home-water-file.ts";
import { addHomeWaterSeries } from "#services/home-water/home-water-plans.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("homeWaterSeriesList", ({ deps }) => readHomeWaterSeries(deps.read));
export const POST = route("addHomeWaterSeries", ({ deps, actor, body }) =>
  addHomeWaterSeries(deps.write, known(actor), body),
);
