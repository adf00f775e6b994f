import { readHandover } from "../../../../../lib/services/read-handovers.ts";
import { route } from "../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("handover", ({ deps, params }) => readHandover(deps.read, params.handover ?? ""));
