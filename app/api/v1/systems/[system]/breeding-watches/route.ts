import { known, route } from "#app/_server/route.ts";
import { openWatch } from "#services/habitat/breeding.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("openWatch", ({ deps, actor, params, body }) =>
  openWatch(deps.write, known(actor), params.system ?? "", body),
);
