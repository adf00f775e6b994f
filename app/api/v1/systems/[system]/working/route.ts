import { route } from "#app/_server/route.ts";
import { readWorking } from "#services/systems/read-working.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("working", ({ deps, params, query }) =>
  readWorking(deps.read, params.system ?? "", query),
);
