import type { In, PracticalSalinity } from "../units/unit.ts";
import { type CarbonateFromPh, type CarbonateSystem, carbonateFromPhAlkalinity } from "./carbonate.ts";
import { firstOrderNumber } from "./first-order.ts";
import { NBS_FLOOR } from "./ph-scale.ts";
import { waterFromSalinity } from "./water.ts";

/** What of the carbonate system is asked for. */
export type CarbonatePart = "pco2" | "aragoniteSaturation" | "calciteSaturation" | "dissolvedInorganicCarbon";

/** Standard uncertainties of what goes into the carbonate system. */
export interface CarbonateUncertainty {
  /** pH units; a probe on NBS buffers in salt water counts as at least 0.05. */
  readonly ph: number;
  /** Of alkalinity, as a share of it. */
  readonly alkalinityRelative: number;
  /** °C. */
  readonly t: number;
  /** Practical salinity. */
  readonly s: number;
  /** Of calcium, as a share of it. */
  readonly calciumRelative: number;
}

/** A probe, a titration, calcium from salinity. Common practice, no source. */
export const FIELD_CARBONATE: CarbonateUncertainty = {
  ph: 0.05,
  alkalinityRelative: 0.03,
  t: 0.2,
  s: 0.5,
  calciumRelative: 0.05,
};

/**
 * Of the constants, as a share of each part: 0.0075 in pK1, 0.015 in pK2, 0.02 in the solubility products, carried through and rounded up.
 * Source: Orr, Epitalon, Dickson & Gattuso 2018, Mar. Chem. 207, 84 (from memory).
 */
const U_CONSTANTS: Readonly<Record<CarbonatePart, number>> = {
  pco2: 0.02,
  aragoniteSaturation: 0.055,
  calciteSaturation: 0.055,
  dissolvedInorganicCarbon: 0.005,
};

/**
 * Relative standard uncertainty of one part of the carbonate system, first order in the logarithm: the interval of about 95 % is
 * value * exp(-2u) to value * exp(2u). `input` as `carbonateFromPhAlkalinity`; `u` 0 or more. Null where the inputs leave no number, or
 * none close beside them. Source: GUM (JCGM 100:2008) over Dickson, Sabine & Christian 2007.
 */
export function carbonateUncertainty(
  input: CarbonateFromPh,
  part: CarbonatePart,
  u: CarbonateUncertainty = FIELD_CARBONATE,
  constants: number = U_CONSTANTS[part],
): number | null {
  const asked = { ...input };
  const logOf = ([ph, alkalinity, t, s]: readonly number[]): number => {
    const { value } = carbonateFromPhAlkalinity({
      ...asked,
      ph: ph as In<"[pH]">,
      alkalinity: alkalinity as In<"meq/L">,
      t: t as In<"Cel">,
      s: s as PracticalSalinity,
    });
    const found: CarbonateSystem[CarbonatePart] = value === null ? null : value[part];
    return found === null ? Number.NaN : Math.log(found);
  };
  const isFresh = (input.water ?? waterFromSalinity(input.s)) === "fresh";
  const isNbs = (input.phScale ?? "nbs") === "nbs";
  const ofSaturation = part === "aragoniteSaturation" || part === "calciteSaturation";
  const own = Math.hypot(constants, ofSaturation ? u.calciumRelative : 0);
  const { ph, alkalinity, t, s } = input;
  const found = firstOrderNumber(
    logOf,
    [
      // The floor stands for what an electrode's offset is not known better than; without any pH error asked for, there is none to floor.
      { value: ph, u: isNbs && !isFresh && u.ph > 0 ? Math.max(u.ph, NBS_FLOOR) : u.ph, step: 0.005 },
      { value: alkalinity, u: u.alkalinityRelative * alkalinity, step: alkalinity * 0.005 },
      { value: t, u: u.t, step: 0.05 },
      // Calcium, boron and the constants follow salinity; a fresh water's equations do not look at it.
      { value: s, u: isFresh ? 0 : u.s, step: Math.min(0.05, s / 2) },
    ],
    own,
  );
  return Number.isFinite(found) ? found : null;
}
