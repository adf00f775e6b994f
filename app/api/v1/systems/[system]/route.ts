import { changeSystem } from "../../../../../lib/services/change-system.ts";
import { readSystem } from "../../../../../lib/services/read-system.ts";
import { known, route } from "../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("system", ({ deps, params }) => readSystem(deps.read, params.system ?? ""));
export const POST = route("changeSystem", ({ deps, actor, params, body }) =>
  changeSystem(deps.write, known(actor), params.system ?? "", body),
);
