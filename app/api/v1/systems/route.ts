import { readSystems } from "../../../../lib/services/read-systems.ts";
import { route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("systems", ({ deps }) => readSystems(deps.read));
