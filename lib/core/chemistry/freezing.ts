import type { In, PracticalSalinity } from "../units/unit.ts";
import { type ComputedIn, computed, invalid, isSalinity, NO_SALINITY, NOT_A_NUMBER } from "./result.ts";
import { T68_PER_T90 } from "./water.ts";

const FORMULA = "Millero & Leung 1976 (UNESCO 44)";
const OUTSIDE = "outside S 4 to 40 or 0 to 500 dbar";

/**
 * Freezing point of sea water, °C (ITS-90): the lower bound of a believable water thermometer. `s` practical
 * salinity; `p` dbar above atmospheric. S 4-40 and 0-500 dbar; outside extrapolated.
 * Source: Millero & Leung 1976; UNESCO Technical Papers in Marine Science 44.
 */
export function freezingPoint(s: PracticalSalinity, p: In<"dbar"> | 0 = 0): ComputedIn<"Cel"> {
  if (!(Number.isFinite(s) && Number.isFinite(p))) return invalid(FORMULA, NOT_A_NUMBER);
  if (!isSalinity(s)) return invalid(FORMULA, NO_SALINITY);
  if (p < -10 || p > 12000) return invalid(FORMULA, "pressure is outside -10 to 12000 dbar");
  const t68 = s * (-0.0575 + 1.710523e-3 * Math.sqrt(s) - 2.154996e-4 * s) - 7.53e-4 * p;
  return computed<"Cel">(t68 / T68_PER_T90, FORMULA, s < 4 || s > 40 || p < 0 || p > 500 ? OUTSIDE : null);
}
