import { known, route } from "#app/_server/route.ts";
import { recordBirth } from "#services/habitat/breeding.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("recordBirth", ({ deps, actor, params, body }) =>
  recordBirth(deps.write, known(actor), params.system ?? "", body),
);
