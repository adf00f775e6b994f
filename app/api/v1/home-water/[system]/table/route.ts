import { homeWaterTable } from "../../../../../../lib/services/home-water/home-water-table.ts";
import { readHomeWater } from "../../../../../../lib/services/read-home-water.ts";
import { route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("homeWaterTable", async ({ deps, params, query }) => {
  const view = await readHomeWater(deps.read, params.system ?? "", query);
  return new Response(homeWaterTable(view), {
    headers: {
      "content-type": "text/csv; charset=utf-8",
      "content-disposition": `attachment; filename="home-water-${view.system}-${view.year}.csv"`,
      "cache-control": "no-store",
    },
  });
});
