import { route } from "#app/_server/route.ts";
import { readOvernight } from "#services/overnight/read-overnight.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("overnight", ({ deps, query }) => readOvernight(deps.read, query));
