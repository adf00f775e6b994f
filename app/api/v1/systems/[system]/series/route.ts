import { route } from "#app/_server/route.ts";
import { readSeries } from "#services/series/read-series.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("series", ({ deps, params, query }) =>
  readSeries(deps.read, params.system ?? "", query),
);
