import type { In } from "../units/unit.ts";
import { type Computed, invalid, NOT_A_NUMBER } from "./result.ts";

const FORMULA = "Meeus, Astronomical Algorithms ch. 25 and 28 (low precision)";
/** Sun's centre below the horizon at sunrise, degrees: refraction 34' and radius 16'. */
export const SUNRISE_HORIZON = 0.833;
/** Civil twilight begins and ends here, degrees below the horizon. */
export const CIVIL_HORIZON = 6;

const MINUTES_PER_DAY = 1440;
const JULIAN_2000_01_01 = 2451544.5;
const RADIANS = Math.PI / 180;
const sin = (degrees: number) => Math.sin(degrees * RADIANS);
const cos = (degrees: number) => Math.cos(degrees * RADIANS);
const tan = (degrees: number) => Math.tan(degrees * RADIANS);

export interface DayLengthInput {
  /** Degrees, north positive, -90 to 90. */
  readonly latitude: number;
  /** Degrees, east positive, -180 to 180. */
  readonly longitude: number;
  /** The day at the place, `YYYY-MM-DD`, 1900-2100. */
  readonly date: string;
  /** How far below the horizon the sun's centre is at rise and set, degrees, 0 to 18. Default `SUNRISE_HORIZON`. */
  readonly horizon?: number;
}

export type SunCourse = "normal" | "never_rises" | "never_sets";

/** Minutes count from 0h UTC of the date and may lie before 0 or past 1440: the event belongs to the place's own day. */
export interface DayLength extends Computed<In<"h">> {
  readonly sun: SunCourse | null;
  readonly noon: number | null;
  readonly rise: number | null;
  readonly set: number | null;
}

interface SunPosition {
  readonly declination: number;
  /** Equation of time, minutes. */
  readonly equation: number;
}

/** Source: Meeus, Astronomical Algorithms, 2nd ed., ch. 25 (low accuracy) and 28; coefficients from memory. */
function sunAt(julianDay: number): SunPosition {
  const c = (julianDay - 2451545) / 36525;
  const L = (280.46646 + c * (36000.76983 + 0.0003032 * c)) % 360;
  const M = 357.52911 + c * (35999.05029 - 0.0001537 * c);
  const e = 0.016708634 - c * (4.2037e-5 + 1.267e-7 * c);
  const centre =
    sin(M) * (1.914602 - c * (0.004817 + 1.4e-5 * c)) +
    sin(2 * M) * (0.019993 - 0.000101 * c) +
    0.000289 * sin(3 * M);
  const node = 125.04 - 1934.136 * c;
  const longitude = L + centre - 0.00569 - 0.00478 * sin(node);
  const seconds = 21.448 - c * (46.815 + c * (0.00059 - 0.001813 * c));
  const tilt = 23 + (26 + seconds / 60) / 60 + 0.00256 * cos(node);
  const y = tan(tilt / 2) ** 2;
  const radians =
    y * sin(2 * L) -
    2 * e * sin(M) +
    4 * e * y * sin(M) * cos(2 * L) -
    0.5 * y * y * sin(4 * L) -
    1.25 * e * e * sin(2 * M);
  return {
    declination: Math.asin(sin(tilt) * sin(longitude)) / RADIANS,
    equation: (4 * radians) / RADIANS,
  };
}

/** Julian day at 0h UTC of a Gregorian date, or null for text that is no such date. */
function julianDayOf(date: string): number | null {
  const [, year, month, day] = /^(\d{4})-(\d{2})-(\d{2})$/.exec(date)?.map(Number) ?? [];
  if (year === undefined || month === undefined || day === undefined) return null;
  const midnight = Date.UTC(year, month - 1, day);
  const read = new Date(midnight);
  // A day past its month rolls over, and a year below 100 is read as of the last century: neither is the date asked for.
  if (read.getUTCFullYear() !== year || read.getUTCMonth() !== month - 1 || read.getUTCDate() !== day)
    return null;
  return JULIAN_2000_01_01 + (midnight - Date.UTC(2000, 0, 1)) / 86_400_000;
}

function cosineOfHourAngle(zenith: number, latitude: number, declination: number): number {
  return cos(zenith) / (cos(latitude) * cos(declination)) - tan(latitude) * tan(declination);
}

function fault(input: DayLengthInput, horizon: number): string | null {
  if (![input.latitude, input.longitude, horizon].every(Number.isFinite)) return NOT_A_NUMBER;
  if (Math.abs(input.latitude) > 90) return "latitude is outside -90 to 90";
  if (Math.abs(input.longitude) > 180) return "longitude is outside -180 to 180";
  return horizon >= 0 && horizon <= 18 ? null : "horizon is outside 0 to 18 degrees below";
}

/**
 * Hours from sunrise to sunset at a place, to compare a light cycle with the native latitude. Good to 0.1 min below
 * 60 degrees of latitude and 0.5 min above; hills and weather are left out, and summer time has no place here.
 * A polar day is 24 h, a polar night 0 h. 1900-2100; other years extrapolated; no date or place: invalid.
 * Source: Meeus, Astronomical Algorithms ch. 25 and 28; horizon as the NOAA solar calculator (from memory).
 */
export function dayLength(input: DayLengthInput): DayLength {
  const horizon = input.horizon ?? SUNRISE_HORIZON;
  const julian = julianDayOf(input.date);
  const note =
    fault(input, horizon) ?? (julian === null ? `"${input.date}" is not a date: write YYYY-MM-DD` : null);
  if (note !== null || julian === null) {
    return { ...invalid(FORMULA, note ?? NOT_A_NUMBER), sun: null, noon: null, rise: null, set: null };
  }
  const sun = (minutes: number) => sunAt(julian + minutes / MINUTES_PER_DAY);
  const year = Number(input.date.slice(0, 4));
  const outside = year < 1900 || year > 2100 ? "outside the years 1900 to 2100" : null;
  const head = { status: outside === null ? "ok" : "extrapolated", formula: FORMULA, note: outside } as const;

  const clock = 720 - 4 * input.longitude;
  let noon = clock;
  for (let i = 0; i < 3; i += 1) noon = clock - sun(noon).equation;
  const zenith = 90 + horizon;
  const atNoon = cosineOfHourAngle(zenith, input.latitude, sun(noon).declination);
  const always = (hours: number, course: SunCourse): DayLength => ({
    ...head,
    value: hours as In<"h">,
    sun: course,
    noon,
    rise: null,
    set: null,
  });
  if (atNoon > 1) return always(0, "never_rises");
  if (atNoon < -1) return always(24, "never_sets");

  const event = (side: -1 | 1): number | null => {
    let minutes = noon + (side * 4 * Math.acos(atNoon)) / RADIANS;
    for (let i = 0; i < 5; i += 1) {
      const { declination, equation } = sun(minutes);
      const cosine = cosineOfHourAngle(zenith, input.latitude, declination);
      if (Math.abs(cosine) > 1) return null;
      minutes = clock - equation + (side * 4 * Math.acos(cosine)) / RADIANS;
    }
    return minutes;
  };
  const rise = event(-1);
  const set = event(1);
  // Within a day of the polar switch the sun may not cross at its own instant: then the rule at noon decides.
  if (rise === null || set === null) {
    return atNoon > 0 ? always(0, "never_rises") : always(24, "never_sets");
  }
  return { ...head, value: ((set - rise) / 60) as In<"h">, sun: "normal", noon, rise, set };
}
