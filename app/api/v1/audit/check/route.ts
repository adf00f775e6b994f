import { checkAudit } from "../../../../../lib/services/read-audit.ts";
import { known, route } from "../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("auditCheck", ({ deps, actor }) => checkAudit(deps.write, known(actor)));
