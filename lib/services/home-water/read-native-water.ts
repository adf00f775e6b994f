import type { NativeWaterQuery, NativeWaterView } from "#contract/native-water.ts";
import {
  type Climatology,
  COARSE,
  NATIVE_SOURCES,
  nativeWaterAt,
  ownSeries,
} from "#core/native-water/index.ts";
import { mean } from "#core/statistics/mean.ts";
import { roundTo } from "#core/units/rounding.ts";
import type { Store } from "#store/port.ts";
import { AppError } from "../errors.ts";

/** The table of lib/climate, read once a process. */
export interface NativeDeps {
  readonly climatology: () => Promise<Climatology>;
}

/** The same with a team's own series in front, where one lies within 300 km. */
export async function readHomeOrNative(
  deps: NativeDeps & { readonly store: Pick<Store, "readHabitat"> },
  query: NativeWaterQuery,
): Promise<NativeWaterView> {
  const view = await readNativeWater(deps, query);
  if (view.depth !== 0) return view;
  const { homeWater } = await deps.store.readHabitat();
  const temperature = ownSeries(homeWater, "temperature", view.asked);
  const salinity = ownSeries(homeWater, "salinity", view.asked);
  const spreads = temperature?.series.months.flatMap(({ spread }) => (spread === null ? [] : [spread])) ?? [];
  const said = (found: NonNullable<typeof temperature>) =>
    `${found.series.name}, loaded by ${found.series.recordedBy}: ${found.series.source}`;
  return {
    ...view,
    ...(temperature && {
      box: { latitude: temperature.series.latitude, longitude: temperature.series.longitude },
      distance: roundTo(temperature.distance, 1),
      temperature: temperature.series.months.map(({ value }) => value),
      spread: spreads.length === 12 ? spreads : null,
    }),
    ...(salinity && {
      salinity: roundTo(mean(salinity.series.months.map(({ value }) => value)), 2),
      salinityNear: null,
    }),
    source: {
      ...view.source,
      ...(temperature && {
        temperature: said(temperature),
        spread: spreads.length === 12 ? said(temperature) : view.source.spread,
      }),
      ...(salinity && { salinity: said(salinity) }),
    },
  };
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
