import { withdrawImport } from "../../../../../../lib/services/import-readings.ts";
import { known, route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("withdrawImport", ({ deps, actor, params, body }) =>
  withdrawImport(deps.write, known(actor), params.import ?? "", body),
);
