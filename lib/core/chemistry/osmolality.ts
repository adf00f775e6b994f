import type { In, PracticalSalinity } from "../units/unit.ts";
import { type Computed, invalid, waterFault } from "./result.ts";

const FORMULA = "osmotic coefficient fitted to TEOS-10";
const OUTSIDE = "outside S 0.2 to 42 or 0 to 35 °C";
/** Reference-composition salinity, g/kg per unit of practical salinity. Source: Millero et al. 2008 (from memory). */
const ABSOLUTE_PER_PRACTICAL = 35.16504 / 35;
/** Mean molar mass of sea salt's ions, g/mol. Source: Millero et al. 2008 (from memory). */
const MEAN_ION_MASS = 31.4038218;

export interface Osmolality extends Computed<In<"mosm/kg">> {
  readonly osmoticCoefficient: number | null;
}

/**
 * Osmolality of sea water, mosm/kg of water. `s` practical salinity, `t` °C. S 0.2-42, 0-35 °C; outside extrapolated.
 * The osmotic coefficient is this project's own fit to chemical potentials of the TEOS-10 library, at most 0.0024
 * off. Source: IOC, SCOR & IAPSO 2010 (TEOS-10); composition Millero et al. 2008.
 */
export function osmolality(s: PracticalSalinity, t: In<"Cel">): Osmolality {
  const fault = waterFault(t, s);
  if (fault !== null) return { ...invalid(FORMULA, fault), osmoticCoefficient: null };
  const absolute = s * ABSOLUTE_PER_PRACTICAL;
  const molality = absolute / (MEAN_ION_MASS * (1 - absolute / 1000));
  const x = Math.sqrt(s);
  const phi =
    1 +
    x * (-0.0656049 - 1.09939e-4 * t) +
    s * (0.01579165 + 4.20372e-5 * t) +
    s * x * (-0.001858033 - 2.45649e-6 * t) +
    9.32678e-5 * s * s;
  const outside = s < 0.2 || s > 42 || t < 0 || t > 35;
  return {
    value: (1000 * molality * phi) as In<"mosm/kg">,
    status: outside ? "extrapolated" : "ok",
    formula: FORMULA,
    note: outside ? OUTSIDE : null,
    osmoticCoefficient: phi,
  };
}
