import type { In } from "../units/unit.ts";
import {
  type ComputedIn,
  computed,
  invalid,
  isWaterTemperature,
  NOT_A_NUMBER,
  NOT_LIQUID,
} from "./result.ts";

const FORMULA = "linear compensation to 25 °C";
/** Per °C. A sensor maker's default; many meters use 0.020. Store it with the channel. Source: Standard Methods 2510 (from memory). */
export const DEFAULT_ALPHA = 0.0191;
const NO_ALPHA = "compensation coefficient is outside 0 to 0.05 per °C";
const OUTSIDE = "linear compensation is only a rule of thumb outside 0 to 40 °C";

function fault(conductivity: number, t: number, alpha: number): string | null {
  if (!(Number.isFinite(conductivity) && Number.isFinite(t) && Number.isFinite(alpha))) return NOT_A_NUMBER;
  if (conductivity < 0) return "conductivity cannot be negative";
  if (!isWaterTemperature(t)) return NOT_LIQUID;
  if (alpha < 0 || alpha > 0.05) return NO_ALPHA;
  return 1 + alpha * (t - 25) > 0
    ? null
    : "compensation coefficient and temperature give a divisor that is not above 0";
}

/**
 * Specific conductance at 25 °C, uS/cm, of water of raw conductivity `c` mS/cm at `t` °C; `alpha` per °C.
 * 0 to 40 °C, outside extrapolated; alpha outside 0-0.05 invalid. For sea salt no constant alpha is right: the rule
 * is up to 2 % off between 5 and 35 °C. Source: definition; Standard Methods 2510 (from memory).
 */
export function specificConductance25(
  c: In<"mS/cm">,
  t: In<"Cel">,
  alpha: number = DEFAULT_ALPHA,
): ComputedIn<"uS/cm"> {
  const reason = fault(c, t, alpha);
  if (reason !== null) return invalid(FORMULA, reason);
  return computed<"uS/cm">((1000 * c) / (1 + alpha * (t - 25)), FORMULA, t < 0 || t > 40 ? OUTSIDE : null);
}

/**
 * Raw conductivity, mS/cm, behind a meter's specific conductance `k25` uS/cm: undoes `specificConductance25` with
 * the meter's own `alpha`. Same range. Source: definition.
 */
export function conductivityFromSpecificConductance(
  k25: In<"uS/cm">,
  t: In<"Cel">,
  alpha: number = DEFAULT_ALPHA,
): ComputedIn<"mS/cm"> {
  const reason = fault(k25, t, alpha);
  if (reason !== null) return invalid(FORMULA, reason);
  return computed<"mS/cm">((k25 / 1000) * (1 + alpha * (t - 25)), FORMULA, t < 0 || t > 40 ? OUTSIDE : null);
}
