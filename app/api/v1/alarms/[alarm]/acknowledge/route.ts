import { known, route } from "#app/_server/route.ts";
import { acknowledgeAlarm } from "#services/overnight/acknowledge-alarm.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("acknowledge", ({ deps, actor, params, body }) =>
  acknowledgeAlarm(deps.write, known(actor), params.alarm ?? "", body),
);
