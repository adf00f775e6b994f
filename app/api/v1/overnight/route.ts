import { readOvernight } from "../../../../lib/services/read-overnight.ts";
import { route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("overnight", ({ deps, query }) => readOvernight(deps.read, query));
