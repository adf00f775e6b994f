import type { HomeWaterListView, HomeWaterQuery } from "#contract/home-water.ts";
import { livingAt } from "#core/habitat/index.ts";
import { leadFits } from "#core/home-water/index.ts";
import { labelOf } from "#core/units/quantity-label.ts";
import type { ReadDeps } from "../deps.ts";
import type { SystemSetUp } from "../set-up.ts";
import { headSite } from "../systems/read-systems.ts";
import { isRunning } from "../systems/system-state.ts";
import { readFits, yearAt } from "./read-fits.ts";
import { compositeAt, conflictsOf, speciesNames } from "./shared-range.ts";

function residentWords(at: SystemSetUp, now: number): string {
  const counts = new Map<string, number>();
  for (const { speciesName, count } of livingAt(at.residents, at.system.id, now))
    counts.set(speciesName, (counts.get(speciesName) ?? 0) + count);
  return [...counts].map(([name, count]) => `${count} ${name}`).join(", ");
}

/** How near every running system was to home in a year, a row a system: against the native range it was furthest from, else against what is known; the target band second. */
export async function listHomeWater(deps: ReadDeps, query: HomeWaterQuery = {}): Promise<HomeWaterListView> {
  const now = deps.clock();
  const index = await deps.setUp.read();
  const systems = index.systems.filter((at) => isRunning(at, now));
  const year = query.year ?? yearAt(now, headSite(index).zone);
  const habitat = await deps.store.readHabitat();
  const fits = await readFits(deps.store, habitat, systems, year, now);
  return {
    now,
    year,
    systems: systems
      .map((at) => {
        const names = speciesNames(at);
        const of = fits.filter((fit) => fit.at === at);
        return {
          system: at.system.code,
          name: at.system.name,
          residents: residentWords(at, now),
          fits: of.flatMap(({ stream, rows }) => {
            const { lead: row, band } = leadFits(rows);
            if (!row) return [];
            return [
              {
                quantity: stream.quantity,
                label: labelOf(stream.quantity).label,
                kind: row.kind,
                against: row.against,
                month: row.months.findLast((month) => month !== null) ?? row.year,
                year: row.year,
                band:
                  band && band !== row ? { kind: band.kind, against: band.against, year: band.year } : null,
              },
            ];
          }),
          conflict:
            of
              .flatMap(({ stream }) => {
                const whole = compositeAt(at, habitat, stream.quantity, now);
                return whole ? conflictsOf(whole, names) : [];
              })
              .at(0)?.says ?? null,
        };
      })
      .sort((a, b) => a.name.localeCompare(b.name, "en")),
  };
}
