import { known, route } from "#app/_server/route.ts";
import { correctStay } from "#services/habitat/residents.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("correctStay", ({ deps, actor, params, body }) =>
  correctStay(deps.write, known(actor), params.stay ?? "", body),
);
