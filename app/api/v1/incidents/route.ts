import { route } from "#app/_server/route.ts";
import { readIncidents } from "#services/overnight/read-incidents.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("incidents", ({ deps, query }) => readIncidents(deps.read, query));
