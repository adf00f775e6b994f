import { readHomeWater } from "../../../../../lib/services/read-home-water.ts";
import { route } from "../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("homeWater", ({ deps, params, query }) =>
  readHomeWater(deps.read, params.system ?? "", query),
);
