import type { HomeWaterSeries } from "../habitat/plans.ts";
import { greatCircle, type Place } from "./great-circle.ts";
import { FARTHEST_BOX } from "./native-water.ts";

/** The team's own series of a quantity nearest to a place, within 300 km and not withdrawn: it comes before any climatology. */
export function ownSeries(loaded: readonly HomeWaterSeries[], quantity: string, place: Place) {
  const near = loaded
    .filter((series) => series.quantity === quantity && series.withdrawnAt === null)
    .map((series) => ({ series, distance: greatCircle(series, place) }))
    .filter(({ distance }) => distance <= FARTHEST_BOX)
    .sort((a, b) => a.distance - b.distance || b.series.recordedAt - a.series.recordedAt);
  return near[0] ?? null;
}
