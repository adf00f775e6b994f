import { route } from "#app/_server/route.ts";
import { animalWaterTable } from "#services/home-water/animal-water-table.ts";
import { readAnimalWater } from "#services/home-water/read-animal-water.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("animalWaterTable", async ({ deps, params, query }) => {
  const view = await readAnimalWater(deps.read, params.animal ?? "", query);
  return new Response(animalWaterTable(view), {
    headers: {
      "content-type": "text/csv; charset=utf-8",
      "content-disposition": 'attachment; filename="animal-water.csv"',
      "cache-control": "no-store",
    },
  });
});
