import { known, route } from "#app/_server/route.ts";
import { readLog } from "#services/logbook/read-log.ts";
import { writeLog } from "#services/logbook/write-log.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("log", ({ deps, query }) => readLog(deps.read, query));
export const POST = route("writeLog", ({ deps, actor, body }) => writeLog(deps.write, known(actor), body));
