import { readSystem } from "../../../../../../lib/services/read-system.ts";
import { route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("state", ({ deps, params }) => readSystem(deps.read, params.system ?? ""));
