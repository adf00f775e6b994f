import { recordNightCount } from "../../../../../../lib/services/night-counts.ts";
import { known, route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("recordNightCount", ({ deps, actor, params, body }) =>
  recordNightCount(deps.write, known(actor), params.watch ?? "", body),
);
