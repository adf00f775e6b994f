import { tryImport } from "../../../../../lib/services/import-readings.ts";
import { known, route } from "../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("tryImport", ({ deps, actor, body }) => tryImport(deps.write, known(actor), body));
