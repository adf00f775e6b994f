import { changeBand } from "../../../../../../lib/services/change-band.ts";
import { readBands } from "../../../../../../lib/services/read-set-up.ts";
import { known, route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("bands", ({ deps, params }) => readBands(deps.read, params.system ?? ""));
export const POST = route("changeBand", ({ deps, actor, params, body }) =>
  changeBand(deps.write, known(actor), params.system ?? "", body),
);
