import { readDerivedNow } from "../../../../../../lib/services/read-derived-now.ts";
import { route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("derived", ({ deps, params }) => readDerivedNow(deps.read, params.system ?? ""));
