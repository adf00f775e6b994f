import { known, route } from "#app/_server/route.ts";
import { changeBand } from "#services/set-up/change-band.ts";
import { readBands } from "#services/set-up/read-set-up.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("bands", ({ deps, params }) => readBands(deps.read, params.system ?? ""));
export const POST = route("changeBand", ({ deps, actor, params, body }) =>
  changeBand(deps.write, known(actor), params.system ?? "", body),
);
