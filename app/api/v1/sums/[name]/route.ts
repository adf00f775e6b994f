import { route } from "#app/_server/route.ts";
import { runSum } from "#services/sums/run-sum.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("sum", async ({ params, body }) => runSum(params.name ?? "", body));
