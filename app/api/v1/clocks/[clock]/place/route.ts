import { known, route } from "#app/_server/route.ts";
import { placeReadings } from "#services/gateway/place-readings.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("placeClock", ({ deps, actor, params, body }) =>
  placeReadings(deps.write, known(actor), params.clock ?? "", body),
);
