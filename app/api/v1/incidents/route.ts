import { readIncidents } from "../../../../lib/services/read-incidents.ts";
import { route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("incidents", ({ deps, query }) => readIncidents(deps.read, query));
