import { route } from "#app/_server/route.ts";
import { readNightCounts } from "#services/habitat/night-counts.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("nightCounts", ({ deps }) => readNightCounts(deps.read));
