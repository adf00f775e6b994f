import type { In } from "../units/unit.ts";
import {
  type ComputedIn,
  computed,
  invalid,
  isSalinity,
  isWaterTemperature,
  NOT_A_NUMBER,
  NOT_LIQUID,
} from "./result.ts";

const FORMULA = "Quan & Fry 1995 at 589.3 nm";
const OUTSIDE = "outside S 0 to 35 or 0 to 30 °C";
/** Sodium light, nm, for which refractometer scales are made. */
const WAVELENGTH = 589.3;

/** Refractive index in plain numbers: s salinity, t °C. Source: Quan & Fry 1995, Appl. Opt. 34, 3477. */
function refractiveIndex(s: number, t: number): number {
  const L = WAVELENGTH;
  return (
    1.31405 +
    (1.779e-4 - 1.05e-6 * t + 1.6e-8 * t * t) * s -
    2.02e-6 * t * t +
    (15.868 + 0.01155 * s - 0.00423 * t) / L -
    4382 / L ** 2 +
    1.1455e6 / L ** 3
  );
}

export interface RefractometerReading {
  /** What the salinity scale shows. */
  readonly reading: In<"1">;
  /** Sample, °C. */
  readonly t: In<"Cel">;
  /** Temperature the scale is made for, °C, usually 20. */
  readonly tCal: In<"Cel">;
}

/**
 * Salinity from a refractometer without automatic temperature compensation; with compensation apply nothing.
 * S 0-35 and 0-30 °C; outside, also a small negative result, extrapolated. Uncertainty 1 in S: a scale made for
 * sodium chloride reads sea water wrong by 1-2. Source: Quan & Fry 1995.
 */
export function salinityFromRefractometer(input: RefractometerReading): ComputedIn<"1"> {
  const { reading, t, tCal } = input;
  if (![reading, t, tCal].every(Number.isFinite)) return invalid(FORMULA, NOT_A_NUMBER);
  if (!isSalinity(reading)) return invalid(FORMULA, "scale reading is outside 0 to 120");
  if (![t, tCal].every(isWaterTemperature)) return invalid(FORMULA, NOT_LIQUID);
  const s =
    (refractiveIndex(reading, tCal) - refractiveIndex(0, t)) /
    (refractiveIndex(1, t) - refractiveIndex(0, t));
  const outside = s < 0 || s > 35 || t < 0 || t > 30 || tCal < 0 || tCal > 30;
  return computed<"1">(s, FORMULA, outside ? OUTSIDE : null);
}
