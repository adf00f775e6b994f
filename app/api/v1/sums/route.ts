import { listSums } from "../../../../lib/services/list-sums.ts";
import { route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("sums", async () => listSums());
