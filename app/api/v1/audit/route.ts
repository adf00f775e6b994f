import { readAudit } from "../../../../lib/services/read-audit.ts";
import { known, route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("audit", ({ deps, actor, query }) => readAudit(deps.write, known(actor), query));
