import type { In } from "../units/unit.ts";
import { type ComputedIn, computed, invalid, NOT_A_NUMBER } from "./result.ts";

const FORMULA = "US Standard Atmosphere 1976 (troposphere)";
const OUTSIDE = "outside 850 to 1090 hPa at sea level or -500 to 5000 m";

/**
 * Station pressure, hPa (what a barometer on the wall reads), from the sea-level pressure of a weather report in hPa
 * and the height of the place in m. -500 to 5000 m, 850-1090 hPa; outside extrapolated; above 11000 m or below
 * -5000 m invalid. Good to about 1 %, since the real air is not the standard one; geometric height is taken for
 * geopotential, 0.1 hPa at 3000 m. Source: ICAO / US Standard Atmosphere 1976 (from memory).
 */
export function stationPressure(seaLevel: In<"hPa">, elevation: In<"m">): ComputedIn<"hPa"> {
  if (!(Number.isFinite(seaLevel) && Number.isFinite(elevation))) return invalid(FORMULA, NOT_A_NUMBER);
  if (seaLevel <= 0) return invalid(FORMULA, "sea-level pressure must be above 0 hPa");
  if (elevation < -5000 || elevation > 11000) return invalid(FORMULA, "height is outside -5000 to 11000 m");
  const value = seaLevel * (1 - (0.0065 * elevation) / 288.15) ** 5.25588;
  const outside = seaLevel < 850 || seaLevel > 1090 || elevation < -500 || elevation > 5000;
  return computed<"hPa">(value, FORMULA, outside ? OUTSIDE : null);
}
