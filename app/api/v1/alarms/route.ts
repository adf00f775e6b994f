import { readAlarms } from "../../../../lib/services/read-alarms.ts";
import { route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("alarms", ({ deps, query }) => readAlarms(deps.read, query));
