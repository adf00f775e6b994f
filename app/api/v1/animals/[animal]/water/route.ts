import { route } from "#app/_server/route.ts";
import { readAnimalWater } from "#services/home-water/read-animal-water.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("animalWater", ({ deps, params, query }) =>
  readAnimalWater(deps.read, params.animal ?? "", query),
);
