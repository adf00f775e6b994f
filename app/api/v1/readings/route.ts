import { known, route } from "#app/_server/route.ts";
import { postReadings } from "#services/gateway/post-readings.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("readings", ({ deps, actor, body }) =>
  postReadings(deps.acceptor, known(actor), body),
);
