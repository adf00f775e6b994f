import { readLastBench } from "../../../../../../lib/services/read-last-bench.ts";
import { route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("lastBench", ({ deps, params, query }) =>
  readLastBench(deps.read, params.system ?? "", query.limit),
);
