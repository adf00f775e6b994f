import type { In, PracticalSalinity } from "../units/unit.ts";
import {
  type ComputedIn,
  computed,
  invalid,
  isWaterTemperature,
  NO_SALINITY,
  NOT_A_NUMBER,
  NOT_LIQUID,
  waterFault,
} from "./result.ts";
import { T68_PER_T90 } from "./water.ts";

const FORMULA = "PSS-78 with the low-salinity term of Hill et al. 1986";
const OUTSIDE = "outside the scale: S 0 to 42, -2 to 35 °C, 0 to 10000 dbar";
/** Conductivity of standard sea water (S 35, 15 °C on IPTS-68, atmospheric pressure), mS/cm. Source: UNESCO 44, GSW. */
const STANDARD_MS_PER_CM = 42.914;
const RATIO_PER_MS_PER_CM = 1 / STANDARD_MS_PER_CM;
const HIGHEST_MS_PER_CM = 200;
/** Of the practical salinity scale of 1978 (UNESCO 44). */
export const HIGHEST_OF_SCALE = 42;

/**
 * Practical salinity in plain numbers: c in mS/cm (0 or more), t in °C (ITS-90), p in dbar above atmospheric.
 * Nothing is checked. Source: Fofonoff & Millard 1983 (UNESCO Technical Papers in Marine Science 44) for PSS-78;
 * Hill, Dauphinee & Woods 1986 for the last two terms, applied without a branch because they fade by themselves.
 */
export function salinityNumber(c: number, t: number, p: number): number {
  const ratio = c * RATIO_PER_MS_PER_CM;
  const t68 = T68_PER_T90 * t;
  const rt = 0.6766097 + t68 * (2.00564e-2 + t68 * (1.104259e-4 + t68 * (-6.9698e-7 + t68 * 1.0031e-9)));
  // Rp is 1 + pressed / plain. Its fraction, and the two of Hill, are brought under one line: divisions are what this costs.
  const pressed = p * (2.07e-5 + p * (-6.37e-10 + p * 3.989e-15));
  const plain = 1 + t68 * (3.426e-2 + t68 * 4.464e-4) + (0.4215 - 3.107e-3 * t68) * ratio;
  const r = (ratio * plain) / ((plain + pressed) * rt);
  const x = Math.sqrt(r);
  const f = (t68 - 15) / (1 + 0.0162 * (t68 - 15));
  const pss =
    0.008 +
    x * (-0.1692 + x * (25.3851 + x * (14.0941 + x * (-7.0261 + x * 2.7081)))) +
    f * (0.0005 + x * (-0.0056 + x * (-0.0066 + x * (-0.0375 + x * (0.0636 - x * 0.0144)))));
  const a = 400 * r;
  const b = 100 * r;
  const rootB = 10 * x;
  const byA = 1 + 1.5 * a + a * a;
  const byB = 1 + rootB + b + b * rootB;
  return pss - (0.008 * byB + 0.0005 * f * byA) / (byA * byB);
}

/** Conductivity in mS/cm whose salinity is s, by bisection; null when none up to 200 mS/cm has it. Nothing is checked. */
export function conductivityNumber(s: number, t: number, p: number): number | null {
  let low = 0;
  let high = HIGHEST_MS_PER_CM;
  if (salinityNumber(high, t, p) < s) return null;
  while (high - low > 1e-10) {
    const middle = (low + high) / 2;
    if (salinityNumber(middle, t, p) < s) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Whether temperature and pressure are those of the practical salinity scale; what is no number is not. */
export function isScaleSpan(t: number, p: number): boolean {
  return t >= -2 && t <= 35 && p >= 0 && p <= 10000;
}

/** Null within the practical salinity scale, else its range; what is no number lies outside. */
export function outsideScale(s: number, t: number, p: number): string | null {
  return s <= HIGHEST_OF_SCALE && isScaleSpan(t, p) ? null : OUTSIDE;
}

/**
 * Practical salinity (PSS-78) of water of raw, not temperature-compensated conductivity.
 * `c` mS/cm; `t` °C (ITS-90); `p` dbar above atmospheric, 0 for a bench or shallow probe.
 * S 0-42, -2 to 35 °C, 0-10000 dbar; outside: extrapolated. Negative conductivity, S above 120 or water that is
 * not liquid: invalid. Below S about 0.5 the ions of tap water are not sea salt: show specific conductance instead.
 * Uncertainty of the equation 0.003. Source: UNESCO 44 (Fofonoff & Millard 1983); Hill et al. 1986.
 */
export function practicalSalinity(c: In<"mS/cm">, t: In<"Cel">, p: In<"dbar"> | 0 = 0): ComputedIn<"1"> {
  if (!(Number.isFinite(c) && Number.isFinite(t) && Number.isFinite(p)))
    return invalid(FORMULA, NOT_A_NUMBER);
  if (c < 0) return invalid(FORMULA, "conductivity cannot be negative");
  if (!isWaterTemperature(t)) return invalid(FORMULA, NOT_LIQUID);
  // The polynomial leaves a rounding residue of either sign where there is no conductivity at all.
  const s = c === 0 ? 0 : salinityNumber(c, t, p);
  if (s > 120) return invalid(FORMULA, "conductivity is too high for sea water: S above 120");
  return computed<"1">(Math.max(s, 0), FORMULA, outsideScale(s, t, p));
}

/**
 * Raw conductivity, mS/cm, of sea water of practical salinity `s` at `t` °C and `p` dbar: the inverse of
 * `practicalSalinity`, by bisection to 1e-10 mS/cm. Same range; above 200 mS/cm invalid.
 * Source: UNESCO 44 (Fofonoff & Millard 1983); Hill et al. 1986.
 */
export function conductivityFromSalinity(
  s: PracticalSalinity,
  t: In<"Cel">,
  p: In<"dbar"> | 0 = 0,
): ComputedIn<"mS/cm"> {
  const fault = waterFault(t, s) ?? (Number.isFinite(p) ? null : NOT_A_NUMBER);
  if (fault !== null) return invalid(FORMULA, fault);
  const c = s === 0 ? 0 : conductivityNumber(s, t, p);
  if (c === null) return invalid(FORMULA, NO_SALINITY);
  return computed<"mS/cm">(c, FORMULA, outsideScale(s, t, p));
}
