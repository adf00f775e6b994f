import { correctBench } from "../../../../../../lib/services/change-bench.ts";
import { known, route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("correctBench", ({ deps, actor, params, body }) =>
  correctBench(deps.write, known(actor), params.result ?? "", body),
);
