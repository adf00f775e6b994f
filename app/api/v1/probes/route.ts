import { route } from "#app/_server/route.ts";
import { readProbes } from "#services/probes/read-probes.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("probes", ({ deps }) => readProbes(deps.read));
