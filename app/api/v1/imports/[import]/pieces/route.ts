import { continueImport } from "../../../../../../lib/services/import-readings.ts";
import { known, route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("continueImport", ({ deps, actor, params, body }) =>
  continueImport(deps.write, known(actor), params.import ?? "", body),
);
