import { known, route } from "#app/_server/route.ts";
import { tryImport } from "#services/importing/import-readings.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("tryImport", ({ deps, actor, body }) => tryImport(deps.write, known(actor), body));
