import { powerOfTen } from "./power-of-ten.ts";
import { KELVIN, type Water } from "./water.ts";

export const EMERSON = "Emerson et al. 1975 (fresh water, NBS pH)";
export const CLEGG_WHITFIELD = "Clegg & Whitfield 1995 (sea water, total pH)";

/**
 * pK of ammonium in fresh water, for pH read in NBS buffers; t in °C. Source: Emerson, Russo, Lund & Thurston 1975.
 */
export function emersonPkNumber(t: number): number {
  return 0.09018 + 2729.92 / (t + KELVIN);
}

/**
 * pK of ammonium in sea water, total scale, mol/kg of sea water; t in °C, s practical salinity.
 * Source: Clegg & Whitfield 1995 eq. 18; the last term takes it from a kilogram of water to one of sea water.
 */
export function cleggWhitfieldPkNumber(t: number, s: number): number {
  const T = t + KELVIN;
  const rootT = Math.sqrt(T);
  const rootS = Math.sqrt(s);
  const perKgWater =
    9.244605 -
    2729.33 * (1 / 298.15 - 1 / T) +
    (0.04203362 - 11.24742 / T) * Math.sqrt(rootS) +
    (-13.6416 + 1.176949 * rootT - 0.02860785 * T + 545.4834 / T) * rootS +
    (-0.1462507 + 0.0090226468 * rootT - 0.0001471361 * T + 10.5425 / T) * s * rootS +
    (0.004669309 - 0.0001691742 * rootT - 0.5677934 / T) * s * s +
    (-2.354039e-5 + 0.009698623 / T) * s * s * rootS;
  return perKgWater - Math.log10(1 - 0.001005 * s);
}

/** The pK that belongs to the water, on the pH scale its equation is written for. */
export function ammoniumPkNumber(water: Water, t: number, s: number): number {
  return water === "fresh" ? emersonPkNumber(t) : cleggWhitfieldPkNumber(t, s);
}

/** NH3 over NH3 + NH4. */
export function fractionNumber(pk: number, ph: number): number {
  return 1 / (1 + powerOfTen(pk - ph));
}
