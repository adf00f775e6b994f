import { route } from "#app/_server/route.ts";
import { readLogEntry } from "#services/logbook/read-log.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("logEntry", ({ deps, params }) => readLogEntry(deps.read, params.entry ?? ""));
