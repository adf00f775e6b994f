import { runSum } from "../../../../../lib/services/run-sum.ts";
import { route } from "../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("sum", async ({ params, body }) => runSum(params.name ?? "", body));
