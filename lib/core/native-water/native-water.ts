import { dayLength } from "../chemistry/day-length.ts";
import { roundTo } from "../units/rounding.ts";
import { type Box, boxesNear, type Climatology } from "./climatology.ts";
import type { Place } from "./great-circle.ts";

/** A box farther away than this is another sea: no answer then. */
export const FARTHEST_BOX = 300;
/** Day lengths of the same date in two years differ by less than a minute; one year serves for all. */
const USUAL_YEAR = 2026;
const MONTHS = 12;

export const NATIVE_SOURCES = {
  coads:
    "Comprehensive Ocean-Atmosphere Data Set, monthly climatology 1946-1989, boxes of 2 degrees; public domain, from Debian ferret-datasets 7.6.0",
  atlas:
    "World Ocean Atlas, monthly climatology, every second cell of 1 degree, edition not stated; public domain, from Debian ferret-datasets 7.6.0",
  levitus:
    "Levitus, Climatological Atlas of the World Ocean, NOAA Professional Paper 13 (1982), annual mean, cells of 1 degree; public domain, from Debian ferret-datasets 7.6.0",
  daylight: "Meeus, Astronomical Algorithms ch. 25 and 28; sun's centre 0.833 degrees below the horizon",
} as const;
export const COARSE = "an ocean box, not a bay: shores, lagoons and rivers vary far more";

/** Twelve months of the sea around a place: January first, each value at mid-month. */
export interface NativeWater {
  readonly place: Place;
  /** Metres below the surface. */
  readonly depth: number;
  /** The box that the temperatures come from, and how far its centre lies from the place, km. */
  readonly box: Place;
  readonly distance: number;
  /** degC. */
  readonly temperature: readonly number[];
  /** How far a second, independent compilation differs in each month, K; null where it has no complete cell near, or at depth. */
  readonly spread: readonly number[] | null;
  /** Practical salinity, annual mean at the surface in the nearest cell; null where none is within 300 km. */
  readonly salinity: number | null;
  /** Lowest and highest salinity of the cells within 150 km: near river mouths they differ by several. */
  readonly salinityNear: readonly [number, number] | null;
  /** Hours from sunrise to sunset on the 15th of each month, at the place itself. */
  readonly dayLength: readonly number[];
  readonly temperatureSource: string;
}

export type NativeWaterResult =
  | { readonly ok: true; readonly water: NativeWater }
  | { readonly ok: false; readonly says: string; readonly remedy: string };

function layerNamed({ layers }: Climatology, name: string, depth: number) {
  return layers.find((layer) => layer.name === name && layer.depth === depth);
}

/** Depths below the surface that the table knows, metres, the surface first. */
export const depthsOf = ({ layers }: Climatology): number[] =>
  [...new Set(layers.filter(({ quantity }) => quantity === "temperature").map(({ depth }) => depth))].sort(
    (a, b) => a - b,
  );

/** Hours of daylight on the 15th of each month of a year at a place. Polar day 24, polar night 0. Source: dayLength. */
export function monthlyDayLengths({ latitude, longitude }: Place, year = USUAL_YEAR): number[] {
  return Array.from({ length: MONTHS }, (_, month) => {
    const date = `${year}-${String(month + 1).padStart(2, "0")}-15`;
    return roundTo(dayLength({ latitude, longitude, date }).value ?? Number.NaN, 3);
  });
}

function saltNear(table: Climatology, place: Place): Pick<NativeWater, "salinity" | "salinityNear"> {
  const layer = layerNamed(table, "levitus", 0);
  const cells = layer ? boxesNear(layer, place, FARTHEST_BOX) : [];
  const [nearest] = cells;
  if (!nearest) return { salinity: null, salinityNear: null };
  const value = ({ values }: Box) => values[0] ?? Number.NaN;
  const around = cells
    .filter(({ distance }) => distance <= Math.max(FARTHEST_BOX / 2, nearest.distance))
    .map(value);
  return {
    salinity: value(nearest),
    salinityNear: [Math.min(...around), Math.max(...around)],
  };
}

function fault({ latitude, longitude }: Place): { says: string; remedy: string } | null {
  if (!(Math.abs(latitude) <= 90))
    return { says: `latitude ${latitude} is outside -90 to 90`, remedy: "give degrees, north positive" };
  if (!(Math.abs(longitude) <= 180))
    return { says: `longitude ${longitude} is outside -180 to 180`, remedy: "give degrees, east positive" };
  return null;
}

/**
 * Native water at coordinates: the nearest complete box within 300 km (great circle to its centre), said which; monthly temperatures in degC at
 * the surface or at one of the table's depths, annual surface salinity, day lengths. Not ok outside the coordinates' range, for a depth the
 * table does not have, and where no complete box is near enough: nothing is borrowed from farther away.
 * Source: NATIVE_SOURCES; the distance is common practice, no source.
 */
export function nativeWaterAt(table: Climatology, place: Place, depth = 0): NativeWaterResult {
  const wrong = fault(place);
  if (wrong) return { ok: false, ...wrong };
  const name = depth === 0 ? "coads" : "atlas";
  const layer = layerNamed(table, name, depth);
  if (!layer)
    return {
      ok: false,
      says: `there is no water at ${depth} m`,
      remedy: `use one of ${depthsOf(table).join(", ")} m`,
    };
  const [box] = boxesNear(layer, place, FARTHEST_BOX);
  if (!box)
    return {
      ok: false,
      says: `no complete ocean box within ${FARTHEST_BOX} km of ${place.latitude}, ${place.longitude}${depth === 0 ? "" : ` at ${depth} m`}`,
      remedy: "give a place at sea, or load your own series",
    };
  const atlas = depth === 0 ? layerNamed(table, "atlas", 0) : undefined;
  const second = atlas ? boxesNear(atlas, place, FARTHEST_BOX)[0] : undefined;
  return {
    ok: true,
    water: {
      place,
      depth,
      box: { latitude: box.latitude, longitude: box.longitude },
      distance: roundTo(box.distance, 1),
      temperature: box.values,
      spread: second
        ? box.values.map((value, month) => roundTo(Math.abs((second.values[month] ?? Number.NaN) - value), 2))
        : null,
      ...saltNear(table, place),
      dayLength: monthlyDayLengths(place),
      temperatureSource: depth === 0 ? NATIVE_SOURCES.coads : NATIVE_SOURCES.atlas,
    },
  };
}
