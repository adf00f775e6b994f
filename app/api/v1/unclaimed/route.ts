import { route } from "#app/_server/route.ts";
import { readUnclaimed } from "#services/gateway/read-unclaimed.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("unclaimed", ({ deps, query }) => readUnclaimed(deps.read, query.limit));
