import { known, route } from "#app/_server/route.ts";
import { changeSystem } from "#services/set-up/change-system.ts";
import { readSystem } from "#services/systems/read-system.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("system", ({ deps, params }) => readSystem(deps.read, params.system ?? ""));
export const POST = route("changeSystem", ({ deps, actor, params, body }) =>
  changeSystem(deps.write, known(actor), params.system ?? "", body),
);
