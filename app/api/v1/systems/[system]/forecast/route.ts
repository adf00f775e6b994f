import { readForecast } from "../../../../../../lib/services/read-forecast.ts";
import { route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("forecast", ({ deps, params, query }) =>
  readForecast(deps.read, params.system ?? "", query),
);
