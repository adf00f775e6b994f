import { readSeasonProposal } from "../../../../../../lib/services/propose-season.ts";
import { route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("seasonProposal", ({ deps, params, query }) =>
  readSeasonProposal({ ...deps.read, ...deps.native }, params.system ?? "", query),
);
