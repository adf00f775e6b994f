import { animalWaterTable } from "../../../../../../../lib/services/home-water/animal-water-table.ts";
import { readAnimalWater } from "../../../../../../../lib/services/read-animal-water.ts";
import { route } from "../../../../../../_server/route.ts";

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
