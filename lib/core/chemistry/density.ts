import type { In, PracticalSalinity } from "../units/unit.ts";
import {
  type ComputedIn,
  computed,
  invalid,
  isWaterTemperature,
  NOT_A_NUMBER,
  NOT_LIQUID,
  waterFault,
} from "./result.ts";
import { T68_PER_T90 } from "./water.ts";

export const EOS80 = "EOS-80 at one atmosphere, Millero & Poisson 1981";
const OUTSIDE = "outside S 0 to 42 or -2 to 40 °C";

/**
 * Density at atmospheric pressure, kg/m3, in plain numbers: s practical salinity, t in °C (ITS-90). Nothing is checked.
 * Source: Millero & Poisson 1981; UNESCO Technical Papers in Marine Science 44.
 */
export function densityNumber(s: number, t: number): number {
  const T = T68_PER_T90 * t;
  const pure =
    999.842594 +
    T * (6.793952e-2 + T * (-9.09529e-3 + T * (1.001685e-4 + T * (-1.120083e-6 + T * 6.536332e-9))));
  const linear = 0.824493 + T * (-4.0899e-3 + T * (7.6438e-5 + T * (-8.2467e-7 + T * 5.3875e-9)));
  const root = -5.72466e-3 + T * (1.0227e-4 - T * 1.6546e-6);
  return pure + s * linear + s * Math.sqrt(s) * root + 4.8314e-4 * s * s;
}

function outsideRange(s: number, t: number): string | null {
  return s > 42 || t < -2 || t > 40 ? OUTSIDE : null;
}

/**
 * Density of sea water at atmospheric pressure, kg/m3. `s` practical salinity, `t` °C (ITS-90). S 0-42, -2 to 40 °C;
 * outside extrapolated. Uncertainty 0.01 kg/m3; ten metres of depth add 0.045. Source: Millero & Poisson 1981 (EOS-80).
 */
export function seawaterDensity(s: PracticalSalinity, t: In<"Cel">): ComputedIn<"kg/m3"> {
  const fault = waterFault(t, s);
  if (fault !== null) return invalid(EOS80, fault);
  return computed<"kg/m3">(densityNumber(s, t), EOS80, outsideRange(s, t));
}

/**
 * Specific gravity: density of the sample at `t` over that of pure water at `tRef`, both °C. A figure without its two
 * temperatures says little: S 35 is 1.0264 at 25/25 and 1.0269 at 15/15. Range as `seawaterDensity`.
 * Source: Millero & Poisson 1981 (EOS-80).
 */
export function specificGravity(s: PracticalSalinity, t: In<"Cel">, tRef: In<"Cel">): ComputedIn<"1"> {
  const fault = waterFault(t, s) ?? waterFault(tRef, 0);
  if (fault !== null) return invalid(EOS80, fault);
  const outside = outsideRange(s, t) ?? outsideRange(0, tRef);
  return computed<"1">(densityNumber(s, t) / densityNumber(0, tRef), EOS80, outside);
}

const HIGHEST_SALINITY = 60;
/** Cubic expansion of soda-lime glass, per °C, as hydrometer standards use it (from memory). */
const GLASS_EXPANSION = 25e-6;
const HYDROMETER = "glass hydrometer through EOS-80, Millero & Poisson 1981";

export interface HydrometerReading {
  /** What the scale shows, a specific gravity. */
  readonly reading: In<"1">;
  /** Water at the reading, °C. */
  readonly t: In<"Cel">;
  /** The two temperatures marked on the glass, `tCal / tRef`, °C. */
  readonly tCal: In<"Cel">;
  readonly tRef: In<"Cel">;
  /** Cubic expansion of the glass per °C, 0 to 1e-4. */
  readonly glassExpansion?: number;
}

/**
 * Salinity from a glass hydrometer, corrected for water and glass temperature. Result S 0-42 ok, to 60 extrapolated.
 * Lighter than fresh water at that temperature, or denser than S 60: invalid. Plastic swing-arm gauges have no valid
 * correction. Source: Millero & Poisson 1981 (EOS-80); glass expansion as hydrometer standards use (from memory).
 */
export function salinityFromHydrometer(input: HydrometerReading): ComputedIn<"1"> {
  const { reading, t, tCal, tRef, glassExpansion = GLASS_EXPANSION } = input;
  if (![reading, t, tCal, tRef, glassExpansion].every(Number.isFinite))
    return invalid(HYDROMETER, NOT_A_NUMBER);
  if (![t, tCal, tRef].every(isWaterTemperature)) return invalid(HYDROMETER, NOT_LIQUID);
  if (glassExpansion < 0 || glassExpansion > 1e-4)
    return invalid(HYDROMETER, "glass expansion is outside 0 to 1e-4 per °C");
  const density = reading * densityNumber(0, tRef) * (1 - glassExpansion * (t - tCal));
  const fresh = densityNumber(0, t);
  // The same water read back comes out a rounding below itself; a real hydrometer cannot show a millionth.
  if (density < fresh - 1e-9)
    return invalid(
      HYDROMETER,
      "lighter than fresh water at this temperature: check hydrometer and thermometer",
    );
  if (density > densityNumber(HIGHEST_SALINITY, t))
    return invalid(HYDROMETER, "denser than sea water of S 60");
  let low = 0;
  let high = HIGHEST_SALINITY;
  while (high - low > 1e-9) {
    const middle = (low + high) / 2;
    if (densityNumber(middle, t) < density) low = middle;
    else high = middle;
  }
  const s = (low + high) / 2;
  return computed<"1">(s, HYDROMETER, outsideRange(s, t));
}
