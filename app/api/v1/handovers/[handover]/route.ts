import { route } from "#app/_server/route.ts";
import { readHandover } from "#services/overnight/read-handovers.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("handover", ({ deps, params }) => readHandover(deps.read, params.handover ?? ""));
