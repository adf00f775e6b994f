import { known, route } from "#app/_server/route.ts";
import { addSystem } from "#services/set-up/change-system.ts";
import { readSystems } from "#services/systems/read-systems.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("systems", ({ deps }) => readSystems(deps.read));
export const POST = route("addSystem", ({ deps, actor, body }) => addSystem(deps.write, known(actor), body));
