import { known, route } from "#app/_server/route.ts";
import { correctLog } from "#services/logbook/change-log.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("correctLog", ({ deps, actor, params, body }) =>
  correctLog(deps.write, known(actor), params.entry ?? "", body),
);
