import { addPoint } from "../../../../../../lib/services/change-system.ts";
import { known, route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("addPoint", ({ deps, actor, params, body }) =>
  addPoint(deps.write, known(actor), params.system ?? "", body),
);
