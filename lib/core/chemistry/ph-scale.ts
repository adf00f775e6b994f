import type { In, PracticalSalinity } from "../units/unit.ts";
import { type ComputedIn, computed, invalid, NOT_A_NUMBER, waterFault } from "./result.ts";
import { KELVIN } from "./water.ts";

/**
 * What a pH is measured against: `nbs` ordinary buffers of pH 4, 7, 10; `total` tris in sea water; `sws` sea-water
 * scale; `free` free hydrogen ion. In sea water a pH on `nbs` stands about 0.14 above the same water on `total`.
 */
export type PhScale = "nbs" | "total" | "sws" | "free";

/** An ordinary electrode's offset in sea water is not known better than this, pH. Source: Takahashi et al. 1982 (scatter). */
export const NBS_FLOOR = 0.05;

const FORMULA = "Dickson 1990 (KS), Dickson & Riley 1979 (KF), Takahashi et al. 1982 (fH)";
/** Sea-water activity coefficients say nothing below this salinity. Source: Takahashi et al. 1982, data from S 20 to 40. */
const LOWEST_FH_SALINITY = 20;
const RAMP =
  "below S 20 the difference between NBS and total pH is a ramp chosen by this project, without a published source, ±0.05 pH";
const OUTSIDE = "the difference between NBS and total pH is known for S up to 40 and 0 to 40 °C";

/** Ionic strength, mol/kg water. Source: Dickson, Sabine & Christian 2007. */
export function ionicStrengthNumber(s: number): number {
  return (19.924 * s) / (1000 - 1.005 * s);
}

/** Total sulphate, mol/kg. Source: Morris & Riley 1966. */
export function sulphateNumber(s: number): number {
  return ((0.14 / 96.062) * s) / 1.80655;
}

/** Total fluoride, mol/kg. Source: Riley 1965. */
export function fluorideNumber(s: number): number {
  return ((0.000067 / 18.998) * s) / 1.80655;
}

/** ln of the dissociation constant of HSO4, free scale, mol/kg sea water. Source: Dickson 1990, J. Chem. Thermodyn. 22, 113. */
export function lnKsNumber(t: number, s: number): number {
  const T = t + KELVIN;
  const lnT = Math.log(T);
  const I = ionicStrengthNumber(s);
  const root = Math.sqrt(I);
  return (
    -4276.1 / T +
    141.328 -
    23.093 * lnT +
    (-13856 / T + 324.57 - 47.986 * lnT) * root +
    (35474 / T - 771.54 + 114.723 * lnT) * I -
    (2698 / T) * I * root +
    (1776 / T) * I * I +
    Math.log(1 - 0.001005 * s)
  );
}

/** ln of the dissociation constant of HF, free scale, mol/kg sea water. Source: Dickson & Riley 1979. */
export function lnKfNumber(t: number, s: number): number {
  return (
    1590.2 / (t + KELVIN) - 12.641 + 1.525 * Math.sqrt(ionicStrengthNumber(s)) + Math.log(1 - 0.001005 * s)
  );
}

/** [H] total over [H] free. */
export function freeToTotalNumber(t: number, s: number): number {
  return 1 + sulphateNumber(s) / Math.exp(lnKsNumber(t, s));
}

/** [H] sea-water scale over [H] free. */
export function freeToSwsNumber(t: number, s: number): number {
  return freeToTotalNumber(t, s) + fluorideNumber(s) / Math.exp(lnKfNumber(t, s));
}

/** Apparent activity coefficient of hydrogen ion. Source: Takahashi et al. 1982 (GEOSECS Pacific Expedition 3). */
export function hydrogenActivityNumber(t: number, s: number): number {
  const T = t + KELVIN;
  return 1.2948 - 0.002036 * T + (4.607e-4 - 1.475e-6 * T) * s * s;
}

function publishedStep(t: number, s: number): number {
  return (
    -Math.log10(hydrogenActivityNumber(t, s)) - Math.log10(freeToSwsNumber(t, s) / freeToTotalNumber(t, s))
  );
}

/** pH on NBS minus pH on total, in plain numbers. Below S 20 a square-root ramp to 0, which is our own. */
export function nbsMinusTotalNumber(t: number, s: number): number {
  if (s >= LOWEST_FH_SALINITY) return publishedStep(t, s);
  return publishedStep(t, LOWEST_FH_SALINITY) * Math.sqrt(s / LOWEST_FH_SALINITY);
}

/** What to add to a pH on `scale` to have it on total. */
export function toTotalStepNumber(scale: PhScale, t: number, s: number): number {
  switch (scale) {
    case "total":
      return 0;
    case "nbs":
      return -nbsMinusTotalNumber(t, s);
    case "free":
      return -Math.log10(freeToTotalNumber(t, s));
    case "sws":
      return Math.log10(freeToSwsNumber(t, s) / freeToTotalNumber(t, s));
  }
}

/** What limits the conversion between NBS and the other scales at this water: null, or the words to show. */
export function nbsOutside(t: number, s: number): string | null {
  return s > 40 || t < 0 || t > 40 ? OUTSIDE : null;
}

export function nbsCaution(s: number): string | null {
  return s > 0 && s < LOWEST_FH_SALINITY ? RAMP : null;
}

/**
 * A pH on another scale. `ph` 0-14; `s` practical salinity; `t` °C at which the pH was read.
 * Between NBS and the rest: S 20-40 and 0-40 °C, above extrapolated; below S 20 our own ramp, said in `note`; the
 * offset belongs to each electrode (±0.02 to 0.05 pH at best), so one set by the user wins. pH outside 0-14: invalid.
 * Source: Dickson 1990; Dickson & Riley 1979; Takahashi et al. 1982; totals of Morris & Riley 1966 and Riley 1965.
 */
export function convertPh(
  ph: In<"[pH]">,
  from: PhScale,
  to: PhScale,
  s: PracticalSalinity,
  t: In<"Cel">,
): ComputedIn<"[pH]"> {
  const fault = phFault(ph) ?? waterFault(t, s);
  if (fault !== null) return invalid(FORMULA, fault);
  if (from === to) return computed<"[pH]">(ph, FORMULA, null);
  const value = ph + toTotalStepNumber(from, t, s) - toTotalStepNumber(to, t, s);
  const usesNbs = from === "nbs" || to === "nbs";
  return computed<"[pH]">(value, FORMULA, usesNbs ? nbsOutside(t, s) : null, usesNbs ? nbsCaution(s) : null);
}

/** Why a number is no pH, or null. */
export function phFault(ph: number): string | null {
  if (!Number.isFinite(ph)) return NOT_A_NUMBER;
  return ph >= 0 && ph <= 14 ? null : "pH is outside 0 to 14";
}
