import { readArrivals } from "../../../../lib/services/read-arrivals.ts";
import { route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("arrivals", ({ deps, query }) => readArrivals(deps.read, query));
