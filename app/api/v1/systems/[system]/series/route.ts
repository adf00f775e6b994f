import { readSeries } from "../../../../../../lib/services/read-series.ts";
import { route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("series", ({ deps, params, query }) =>
  readSeries(deps.read, params.system ?? "", query),
);
