import { route } from "#app/_server/route.ts";
import { homeWaterTable } from "#services/home-water/home-water-table.ts";
import { readHomeWater } from "#services/home-water/read-home-water.ts";

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
