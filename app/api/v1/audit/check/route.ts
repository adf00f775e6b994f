import { known, route } from "#app/_server/route.ts";
import { checkAudit } from "#services/people/read-audit.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("auditCheck", ({ deps, actor }) => checkAudit(deps.write, known(actor)));
