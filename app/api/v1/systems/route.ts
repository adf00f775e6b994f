import { addSystem } from "../../../../lib/services/change-system.ts";
import { readSystems } from "../../../../lib/services/read-systems.ts";
import { known, route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("systems", ({ deps }) => readSystems(deps.read));
export const POST = route("addSystem", ({ deps, actor, body }) => addSystem(deps.write, known(actor), body));
