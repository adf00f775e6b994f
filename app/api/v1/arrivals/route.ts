import { route } from "#app/_server/route.ts";
import { readArrivals } from "#services/gateway/read-arrivals.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("arrivals", ({ deps, query }) => readArrivals(deps.read, query));
