import { known, route } from "#app/_server/route.ts";
import { undoChange } from "#services/set-up/undo-change.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("undoChange", ({ deps, actor, params, body }) =>
  undoChange(deps.write, known(actor), Number(params.change), body),
);
