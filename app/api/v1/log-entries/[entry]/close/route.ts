import { known, route } from "#app/_server/route.ts";
import { closeLog } from "#services/logbook/change-log.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("closeLog", ({ deps, actor, params, body }) =>
  closeLog(deps.write, known(actor), params.entry ?? "", body),
);
