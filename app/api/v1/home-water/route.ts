import { route } from "#app/_server/route.ts";
import { listHomeWater } from "#services/home-water/list-home-water.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("homeWaterList", ({ deps, query }) => listHomeWater(deps.read, query));
