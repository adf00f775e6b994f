import { route } from "#app/_server/route.ts";
import { readHomeWater } from "#services/home-water/read-home-water.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("homeWater", ({ deps, params, query }) =>
  readHomeWater(deps.read, params.system ?? "", query),
);
