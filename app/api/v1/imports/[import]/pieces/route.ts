import { known, route } from "#app/_server/route.ts";
import { continueImport } from "#services/importing/import-readings.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("continueImport", ({ deps, actor, params, body }) =>
  continueImport(deps.write, known(actor), params.import ?? "", body),
);
