import { route } from "#app/_server/route.ts";
import { readDerivedNow } from "#services/systems/read-derived-now.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("derived", ({ deps, params }) => readDerivedNow(deps.read, params.system ?? ""));
