import { route } from "#app/_server/route.ts";
import { readLastBench } from "#services/bench/read-last-bench.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("lastBench", ({ deps, params, query }) =>
  readLastBench(deps.read, params.system ?? "", query.limit),
);
