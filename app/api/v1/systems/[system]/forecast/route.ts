import { route } from "#app/_server/route.ts";
import { readForecast } from "#services/overnight/read-forecast.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("forecast", ({ deps, params, query }) =>
  readForecast(deps.read, params.system ?? "", query),
);
