import { readUnclaimed } from "../../../../lib/services/read-unclaimed.ts";
import { route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("unclaimed", ({ deps, query }) => readUnclaimed(deps.read, query.limit));
