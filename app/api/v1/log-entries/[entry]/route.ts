import { readLogEntry } from "../../../../../lib/services/read-log.ts";
import { route } from "../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("logEntry", ({ deps, params }) => readLogEntry(deps.read, params.entry ?? ""));
