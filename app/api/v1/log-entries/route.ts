import { readLog } from "../../../../lib/services/read-log.ts";
import { writeLog } from "../../../../lib/services/write-log.ts";
import { known, route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("log", ({ deps, query }) => readLog(deps.read, query));
export const POST = route("writeLog", ({ deps, actor, body }) => writeLog(deps.write, known(actor), body));
