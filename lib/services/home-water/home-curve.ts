import { monthlyDayLengths, nativeWaterAt, ownSeries, type Place } from "#core/native-water/index.ts";
import type { Habitat } from "#store/port.ts";
import type { NativeDeps } from "./read-native-water.ts";

/** Twelve mid-month values of a home and where they are from. */
export interface HomeCurve {
  readonly values: readonly number[];
  readonly from: string;
}

/** Home temperature or day length at a place; null where no sea is near. */
export async function homeCurve(
  deps: NativeDeps,
  habitat: Habitat,
  quantity: "temperature" | "day_length",
  place: Place,
): Promise<HomeCurve | null> {
  if (quantity === "day_length")
    return {
      values: monthlyDayLengths(place),
      from: `daylight at ${place.latitude}°, sun's centre 0.833° below the horizon`,
    };
  const own = ownSeries(habitat.homeWater, quantity, place);
  if (own)
    return {
      values: own.series.months.map(({ value }) => value),
      from: `${own.series.name} (${own.series.source})`,
    };
  const found = nativeWaterAt(await deps.climatology(), place);
  if (!found.ok) return null;
  const { box, temperature, temperatureSource } = found.water;
  return { values: temperature, from: `box at ${box.latitude}, ${box.longitude}: ${temperatureSource}` };
}
