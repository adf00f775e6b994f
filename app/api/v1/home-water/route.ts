import { listHomeWater } from "../../../../lib/services/list-home-water.ts";
import { route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("homeWaterList", ({ deps, query }) => listHomeWater(deps.read, query));
