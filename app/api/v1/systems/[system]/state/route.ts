import { route } from "#app/_server/route.ts";
import { readSystem } from "#services/systems/read-system.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("state", ({ deps, params }) => readSystem(deps.read, params.system ?? ""));
