import { known, route } from "#app/_server/route.ts";
import { recordNightCount } from "#services/habitat/night-counts.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("recordNightCount", ({ deps, actor, params, body }) =>
  recordNightCount(deps.write, known(actor), params.watch ?? "", body),
);
