import type { ResidentsView } from "#contract/habitat.ts";
import { livingAt } from "#core/habitat/index.ts";
import type { ReadDeps } from "../deps.ts";
import { lookUp, systemOf } from "../set-up.ts";
import { byArrival, stayView, watchViews } from "./living-views.ts";

/** Who lives in a system and which breeding watches count there, without the bands they ask for. Throws AppError "not_found". */
export async function readLiving(
  deps: ReadDeps,
  code: string,
): Promise<Pick<ResidentsView, "now" | "zone" | "system" | "residents" | "watches">> {
  const now = deps.clock();
  const { index, at } = await lookUp(deps.setUp, (found) => ({ index: found, at: systemOf(found, code) }));
  const habitat = await deps.store.readHabitat();
  return {
    now,
    zone: at.site.zone,
    system: at.system.code,
    residents: livingAt(at.residents, at.system.id, now)
      .sort(byArrival)
      .map((stay) => stayView(stay, habitat)),
    watches: await watchViews(deps, index, at, habitat, now),
  };
}
