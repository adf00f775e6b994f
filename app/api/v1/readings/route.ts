import { postReadings } from "../../../../lib/services/post-readings.ts";
import { known, route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("readings", ({ deps, actor, body }) =>
  postReadings(deps.acceptor, known(actor), body),
);
