import { known, route } from "#app/_server/route.ts";
import { readAudit } from "#services/people/read-audit.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("audit", ({ deps, actor, query }) => readAudit(deps.write, known(actor), query));
