import { voidBench } from "../../../../../../lib/services/change-bench.ts";
import { known, route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("voidBench", ({ deps, actor, params, body }) =>
  voidBench(deps.write, known(actor), params.result ?? "", body),
);
