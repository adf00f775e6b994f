import { route } from "#app/_server/route.ts";
import { readBenchWater } from "#services/bench/read-bench-water.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("benchWater", ({ deps, params, query }) =>
  readBenchWater(deps.read, params.system ?? "", query),
);
