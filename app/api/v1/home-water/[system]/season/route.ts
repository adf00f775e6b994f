import { route } from "#app/_server/route.ts";
import { readSeasonProposal } from "#services/home-water/propose-season.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("seasonProposal", ({ deps, params, query }) =>
  readSeasonProposal({ ...deps.read, ...deps.native }, params.system ?? "", query),
);
