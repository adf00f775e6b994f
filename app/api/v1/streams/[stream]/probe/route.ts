import { route } from "#app/_server/route.ts";
import { readProbe } from "#services/probes/read-probe.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("probe", ({ deps, params }) => readProbe(deps.read, Number(params.stream)));
