import { undoChange } from "../../../../../../lib/services/undo-change.ts";
import { known, route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const POST = route("undoChange", ({ deps, actor, params, body }) =>
  undoChange(deps.write, known(actor), Number(params.change), body),
);
