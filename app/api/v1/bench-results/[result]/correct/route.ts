import { known, route } from "#app/_server/route.ts";
import { correctBench } from "#services/bench/change-bench.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("correctBench", ({ deps, actor, params, body }) =>
  correctBench(deps.write, known(actor), params.result ?? "", body),
);
