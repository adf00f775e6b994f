import { ammoniumPkNumber } from "./ammonium.ts";
import type { Water } from "./water.ts";

/** Standard uncertainties of what goes into un-ionised ammonia. */
export interface AmmoniaUncertainty {
  /** pH units. */
  readonly ph: number;
  /** °C. */
  readonly t: number;
  /** Practical salinity. */
  readonly s: number;
  /** Of total ammonia, as a share of it. */
  readonly tanRelative: number;
}

/** Relative, of the equilibrium constant. Source: Clegg & Whitfield 1995 (abstract: better than 5 %). */
export const U_CONSTANT = 0.05;
const STEP = 0.01;

export interface AmmoniaSensitivity {
  /** d ln NH3 / d pH, per pH unit. */
  readonly ph: number;
  /** d ln NH3 / d t, per °C. */
  readonly t: number;
  /** d ln NH3 / d S, per unit of practical salinity. */
  readonly s: number;
}

function slopeT(water: Water, t: number, s: number): number {
  return (ammoniumPkNumber(water, t + STEP / 2, s) - ammoniumPkNumber(water, t - STEP / 2, s)) / STEP;
}

function slopeS(water: Water, pk: number, t: number, s: number): number {
  if (water === "fresh") return 0;
  if (s < STEP / 2) return (ammoniumPkNumber(water, t, s + STEP) - pk) / STEP;
  return (ammoniumPkNumber(water, t, s + STEP / 2) - ammoniumPkNumber(water, t, s - STEP / 2)) / STEP;
}

/**
 * How strongly NH3 answers to its inputs, by difference quotients of the pK. `pk` and `fraction` as computed for this
 * water, t in °C, s practical salinity; nothing is checked. Source: derivative of f = 1/(1 + 10^(pK - pH)).
 */
export function ammoniaSensitivity(
  water: Water,
  pk: number,
  fraction: number,
  t: number,
  s: number,
): AmmoniaSensitivity {
  const q = Math.LN10 * (1 - fraction);
  return { ph: q, t: -q * slopeT(water, t, s), s: -q * slopeS(water, pk, t, s) };
}

/**
 * Combined relative standard uncertainty of NH3 from pH, temperature, salinity and total ammonia, first order.
 * Plain numbers, no allocation: this runs at each pH reading. Source: GUM (JCGM 100:2008), law of propagation.
 */
export function relativeUncertaintyNumber(
  water: Water,
  pk: number,
  fraction: number,
  t: number,
  s: number,
  uPh: number,
  uT: number,
  uS: number,
  uTanRelative: number,
): number {
  const q = Math.LN10 * (1 - fraction);
  const byPh = q * uPh;
  const byT = q * slopeT(water, t, s) * uT;
  const byS = q * slopeS(water, pk, t, s) * uS;
  return Math.sqrt(byPh * byPh + byT * byT + byS * byS + uTanRelative * uTanRelative);
}
