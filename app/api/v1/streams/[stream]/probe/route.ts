import { readProbe } from "../../../../../../lib/services/read-probe.ts";
import { route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("probe", ({ deps, params }) => readProbe(deps.read, Number(params.stream)));
