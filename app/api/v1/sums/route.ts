import { route } from "#app/_server/route.ts";
import { listSums } from "#services/sums/list-sums.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("sums", async () => listSums());
