import { readProbes } from "../../../../lib/services/read-probes.ts";
import { route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("probes", ({ deps }) => readProbes(deps.read));
