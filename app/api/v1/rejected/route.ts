import { route } from "#app/_server/route.ts";
import { readRejected } from "#services/gateway/read-rejected.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("rejected", ({ deps, query }) => readRejected(deps.read, query.limit));
