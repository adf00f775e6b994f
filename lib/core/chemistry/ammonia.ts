import type { In, PracticalSalinity } from "../units/unit.ts";
import { type AmmoniaUncertainty, relativeUncertaintyNumber, U_CONSTANT } from "./ammonia-uncertainty.ts";
import { ammoniumPkNumber, CLEGG_WHITFIELD, EMERSON, fractionNumber } from "./ammonium.ts";
import { NBS_FLOOR, nbsCaution, nbsOutside, type PhScale, phFault, toTotalStepNumber } from "./ph-scale.ts";
import { type Computed, type ComputedStatus, NOT_A_NUMBER, waterFault } from "./result.ts";
import { type Water, waterFromSalinity } from "./water.ts";

/** Mass of NH3 over mass of its nitrogen: IUPAC weights, H 1.008, N 14.007. */
const NH3_PER_N = 17.031 / 14.007;
export const DEFAULT_AMMONIA_UNCERTAINTY: AmmoniaUncertainty = { ph: 0.05, t: 0.2, s: 0.5, tanRelative: 0.1 };
export const BEYOND_ANY_WATER = 1e6;
const FRESH_OUTSIDE = "Emerson et al. 1975 is valid for S below 1, 0 to 50 °C and pH 6 to 10";
const SEA_OUTSIDE = "Clegg & Whitfield 1995 is valid for S 0 to 40 and -2 to 40 °C";

export interface AmmoniaWater {
  readonly ph: In<"[pH]">;
  /** Default `nbs`: what a probe calibrated in ordinary buffers reads. */
  readonly phScale?: PhScale;
  /** °C at which the pH was read. */
  readonly t: In<"Cel">;
  readonly s: PracticalSalinity;
  /** Default by salinity, as `waterFromSalinity`. */
  readonly water?: Water;
}

export interface AmmoniaFraction extends Computed<In<"1">> {
  /** pK of ammonium on the scale of `phUsed`. */
  readonly pk: number | null;
  /** The pH the equation was given: on total in brackish and marine water, on NBS in fresh water. */
  readonly phUsed: In<"[pH]"> | null;
}

export interface UnionisedAmmonia extends Computed<In<"mg{N}/L">> {
  /** The same as mass of NH3. */
  readonly asNH3: In<"mg{NH3}/L"> | null;
  readonly fraction: In<"1"> | null;
  /** Interval of about 95 %: value * exp(-2u) to value * exp(2u). */
  readonly low: In<"mg{N}/L"> | null;
  readonly high: In<"mg{N}/L"> | null;
  /** u, the combined relative standard uncertainty. */
  readonly relativeUncertainty: number | null;
}

/** The pH on the scale of the equation that the water asks for. */
function phForEquation(water: Water, ph: number, scale: PhScale, t: number, s: number): number {
  if (water === "fresh") {
    return scale === "nbs" ? ph : ph + toTotalStepNumber(scale, t, s) - toTotalStepNumber("nbs", t, s);
  }
  return ph + toTotalStepNumber(scale, t, s);
}

/** What lies outside the range of a water's equation, or null. */
export function ammoniaOutside(
  water: Water,
  ph: number,
  scale: PhScale,
  t: number,
  s: number,
): string | null {
  if (water === "fresh") return s >= 1 || t < 0 || t > 50 || ph < 6 || ph > 10 ? FRESH_OUTSIDE : null;
  if (s > 40 || t < -2 || t > 40) return SEA_OUTSIDE;
  return scale === "nbs" ? nbsOutside(t, s) : null;
}

function cautionOf(water: Water, scale: PhScale, s: number): string | null {
  const crosses = water === "fresh" ? scale !== "nbs" : scale === "nbs";
  return crosses ? nbsCaution(s) : null;
}

/**
 * Share of total ammonia that is NH3, 0 to 1. Fresh water: Emerson et al. 1975 on NBS pH (S below 1, 0-50 °C, pH 6-10).
 * Brackish and marine: Clegg & Whitfield 1995 on total pH (S 0-40, -2 to 40 °C). Outside: extrapolated; pH outside
 * 0-14, impossible water: invalid. Better than 5 % in K; published methods spread by 15-18 %, so `formula` goes with
 * the number. Source: Emerson et al. 1975, J. Fish. Res. Board Can. 32, 2379; Clegg & Whitfield 1995 eq. 18.
 */
export function ammoniaFraction(input: AmmoniaWater): AmmoniaFraction {
  const { ph, t, s } = input;
  const scale = input.phScale ?? "nbs";
  const water = input.water ?? waterFromSalinity(s);
  const formula = water === "fresh" ? EMERSON : CLEGG_WHITFIELD;
  const fault = phFault(ph) ?? waterFault(t, s);
  if (fault !== null) return { value: null, status: "invalid", formula, note: fault, pk: null, phUsed: null };
  const phUsed = phForEquation(water, ph, scale, t, s);
  const pk = ammoniumPkNumber(water, t, s);
  const outside = ammoniaOutside(water, ph, scale, t, s);
  return {
    value: fractionNumber(pk, phUsed) as In<"1">,
    status: outside === null ? "ok" : "extrapolated",
    formula,
    note: outside ?? cautionOf(water, scale, s),
    pk,
    phUsed: phUsed as In<"[pH]">,
  };
}

function noAmmonia(formula: string, note: string): UnionisedAmmonia {
  const nothing = {
    value: null,
    asNH3: null,
    fraction: null,
    low: null,
    high: null,
    relativeUncertainty: null,
  };
  return { ...nothing, status: "invalid", formula, note };
}

/**
 * Un-ionised ammonia, mg/L as N, with its interval. `tan` mg/L as N; `u` standard uncertainties (pH, °C, salinity,
 * and of TAN as a share of it), defaults 0.05, 0.2, 0.5, 0.1. The interval adds 5 % for the constant and takes at
 * least 0.05 pH for an NBS probe in salt water. Range and status as `ammoniaFraction`; negative TAN or u: invalid.
 * TAN below a kit's detection limit is a "less than": pass the limit and write "<" before the result.
 * Source: as `ammoniaFraction`; uncertainty by the GUM, first order, in the logarithm.
 */
export function unionisedAmmonia(
  input: AmmoniaWater & { readonly tan: In<"mg{N}/L">; readonly u?: Partial<AmmoniaUncertainty> },
): UnionisedAmmonia {
  const { tan, ph, t, s } = input;
  const scale = input.phScale ?? "nbs";
  const water = input.water ?? waterFromSalinity(s);
  const formula = water === "fresh" ? EMERSON : CLEGG_WHITFIELD;
  const fault = phFault(ph) ?? waterFault(t, s);
  if (fault !== null) return noAmmonia(formula, fault);
  if (!Number.isFinite(tan)) return noAmmonia(formula, NOT_A_NUMBER);
  if (tan < 0) return noAmmonia(formula, "total ammonia cannot be negative");
  if (tan > BEYOND_ANY_WATER)
    return noAmmonia(formula, "total ammonia is impossibly high: above 1000000 mg/L");
  const u = input.u;
  const uPh = u?.ph ?? DEFAULT_AMMONIA_UNCERTAINTY.ph;
  const uT = u?.t ?? DEFAULT_AMMONIA_UNCERTAINTY.t;
  const uS = u?.s ?? DEFAULT_AMMONIA_UNCERTAINTY.s;
  const uTan = u?.tanRelative ?? DEFAULT_AMMONIA_UNCERTAINTY.tanRelative;
  if (!(uPh >= 0 && uT >= 0 && uS >= 0 && uTan >= 0)) {
    return noAmmonia(formula, "an uncertainty is negative or not a number");
  }

  const phUsed = phForEquation(water, ph, scale, t, s);
  const pk = ammoniumPkNumber(water, t, s);
  const fraction = fractionNumber(pk, phUsed);
  const floored = scale === "nbs" && water !== "fresh" ? Math.max(uPh, NBS_FLOOR) : uPh;
  const own = relativeUncertaintyNumber(water, pk, fraction, t, s, floored, uT, uS, uTan);
  const constant = U_CONSTANT * (1 - fraction);
  const relative = Math.sqrt(own * own + constant * constant);
  const value = fraction * tan;
  const outside = ammoniaOutside(water, ph, scale, t, s);
  const status: ComputedStatus = outside === null ? "ok" : "extrapolated";
  const spread = Math.exp(2 * relative);
  if (!Number.isFinite(value * spread))
    return noAmmonia(formula, "the uncertainty is too large to give an interval");
  return {
    value: value as In<"mg{N}/L">,
    status,
    formula,
    note: outside ?? cautionOf(water, scale, s),
    asNH3: (value * NH3_PER_N) as In<"mg{NH3}/L">,
    fraction: fraction as In<"1">,
    low: (value / spread) as In<"mg{N}/L">,
    high: (value * spread) as In<"mg{N}/L">,
    relativeUncertainty: relative,
  };
}
