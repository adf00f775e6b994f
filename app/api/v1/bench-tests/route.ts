import { known, route } from "#app/_server/route.ts";
import { recordBench } from "#services/bench/record-bench.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("bench", ({ deps, actor, body }) => recordBench(deps.write, known(actor), body));
