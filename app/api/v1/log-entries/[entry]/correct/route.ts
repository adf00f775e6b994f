import { correctLog } from "../../../../../../lib/services/change-log.ts";
import { known, route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("correctLog", ({ deps, actor, params, body }) =>
  correctLog(deps.write, known(actor), params.entry ?? "", body),
);
