import { readRejected } from "../../../../lib/services/read-rejected.ts";
import { route } from "../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("rejected", ({ deps, query }) => readRejected(deps.read, query.limit));
