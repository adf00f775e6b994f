import { type Climatology, COARSE, NATIVE_SOURCES, nativeWaterAt } from "../core/native-water/index.ts";
import type { NativeWaterQuery, NativeWaterView } from "../core/wire/native-water.ts";
import { AppError } from "./errors.ts";

/** The table of lib/climate, read once a process. */
export interface NativeDeps {
  readonly climatology: () => Promise<Climatology>;
}

/** Native water at coordinates. Throws AppError "not_found" where no complete box of sea is within 300 km, or the depth is not in the table. */
export async function readNativeWater(
  { climatology }: NativeDeps,
  { latitude, longitude, depth }: NativeWaterQuery,
): Promise<NativeWaterView> {
  const found = nativeWaterAt(await climatology(), { latitude, longitude }, depth ?? 0);
  if (!found.ok)
    throw new AppError("not_found", `${found.says}: ${found.remedy}`, {
      issues: [
        {
          field: "latitude",
          value: `${latitude}, ${longitude}`,
          says: found.says,
          remedy: found.remedy,
        },
      ],
    });
  const { place, temperatureSource, salinityNear, ...water } = found.water;
  return {
    asked: place,
    ...water,
    temperature: [...water.temperature],
    spread: water.spread && [...water.spread],
    dayLength: [...water.dayLength],
    salinityNear: salinityNear && [...salinityNear],
    coarse: COARSE,
    source: {
      temperature: temperatureSource,
      spread: `difference from: ${NATIVE_SOURCES.atlas}`,
      salinity: NATIVE_SOURCES.levitus,
      dayLength: NATIVE_SOURCES.daylight,
    },
  };
}
