import { route } from "#app/_server/route.ts";
import { readAlarms } from "#services/overnight/read-alarms.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("alarms", ({ deps, query }) => readAlarms(deps.read, query));
