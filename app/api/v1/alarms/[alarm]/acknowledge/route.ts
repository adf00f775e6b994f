import { acknowledgeAlarm } from "../../../../../../lib/services/acknowledge-alarm.ts";
import { known, route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("acknowledge", ({ deps, actor, params, body }) =>
  acknowledgeAlarm(deps.write, known(actor), params.alarm ?? "", body),
);
