import { known, route } from "#app/_server/route.ts";
import { withdrawImport } from "#services/importing/import-readings.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("withdrawImport", ({ deps, actor, params, body }) =>
  withdrawImport(deps.write, known(actor), params.import ?? "", body),
);
