import { closeLog } from "../../../../../../lib/services/change-log.ts";
import { known, route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("closeLog", ({ deps, actor, params, body }) =>
  closeLog(deps.write, known(actor), params.entry ?? "", body),
);
