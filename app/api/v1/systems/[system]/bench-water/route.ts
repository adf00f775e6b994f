import { readBenchWater } from "../../../../../../lib/services/read-bench-water.ts";
import { route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("benchWater", ({ deps, params, query }) =>
  readBenchWater(deps.read, params.system ?? "", query),
);
