import { known, route } from "#app/_server/route.ts";
import { withdrawPlacement } from "#services/gateway/place-readings.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("withdrawPlacement", ({ deps, actor, params, body }) =>
  withdrawPlacement(deps.write, known(actor), params.placement ?? "", body),
);
