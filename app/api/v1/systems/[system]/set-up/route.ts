import { readSystemSetUp } from "../../../../../../lib/services/read-set-up.ts";
import { route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("systemSetUp", ({ deps, params }) =>
  readSystemSetUp(deps.read, params.system ?? ""),
);
