import { readWorking } from "../../../../../../lib/services/read-working.ts";
import { route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("working", ({ deps, params, query }) =>
  readWorking(deps.read, params.system ?? "", query),
);
