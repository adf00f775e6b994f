import { readAnimalWater } from "../../../../../../lib/services/read-animal-water.ts";
import { route } from "../../../../../_server/route.ts";

export const runtime = "nodejs";
export const dynamic = "force-dynamic";

export const GET = route("animalWater", ({ deps, params, query }) =>
  readAnimalWater(deps.read, params.animal ?? "", query),
);
