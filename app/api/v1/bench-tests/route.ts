import { recordBench } from "../../../../lib/services/record-bench.ts";
import { known, route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("bench", ({ deps, actor, body }) => recordBench(deps.write, known(actor), body));
