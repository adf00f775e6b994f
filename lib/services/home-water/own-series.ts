import { FARTHEST_BOX, greatCircle, type Place } from "#core/native-water/index.ts";
import type { Habitat } from "#store/port.ts";

/** The team's own series of a quantity nearest to a place, within 300 km and not withdrawn: it comes before any climatology. */
export function ownSeries(habitat: Pick<Habitat, "homeWater">, quantity: string, place: Place) {
  const near = habitat.homeWater
    .filter((series) => series.quantity === quantity && series.withdrawnAt === null)
    .map((series) => ({ series, distance: greatCircle(series, place) }))
    .filter(({ distance }) => distance <= FARTHEST_BOX)
    .sort((a, b) => a.distance - b.distance || b.series.recordedAt - a.series.recordedAt);
  return near[0] ?? null;
}
