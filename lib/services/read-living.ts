import { livingAt } from "../core/habitat/index.ts";
import type { ResidentsView } from "../core/wire/habitat.ts";
import type { ReadDeps } from "./deps.ts";
import { byArrival, stayView, watchesOf, watchView } from "./living-views.ts";
import { lookUp, systemOf } from "./set-up.ts";

/** Who lives in a system and which breeding watches count there, without the bands they ask for. Throws AppError "not_found". */
export async function readLiving(
  deps: ReadDeps,
  code: string,
): Promise<Pick<ResidentsView, "now" | "zone" | "system" | "residents" | "watches">> {
  const now = deps.clock();
  const at = await lookUp(deps.setUp, (index) => systemOf(index, code));
  const habitat = await deps.store.readHabitat();
  return {
    now,
    zone: at.site.zone,
    system: at.system.code,
    residents: livingAt(at.residents, at.system.id, now)
      .sort(byArrival)
      .map((stay) => stayView(stay, habitat)),
    watches: watchesOf(at, habitat).map((watch) => watchView(watch, at, habitat.breedingEvents, now)),
  };
}
