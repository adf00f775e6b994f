import { known, route } from "#app/_server/route.ts";
import { voidBench } from "#services/bench/change-bench.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("voidBench", ({ deps, actor, params, body }) =>
  voidBench(deps.write, known(actor), params.result ?? "", body),
);
