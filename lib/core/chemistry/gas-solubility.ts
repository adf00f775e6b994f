import type { In, PracticalSalinity } from "../units/unit.ts";
import { type Computed, invalid, waterFault } from "./result.ts";
import { KELVIN, T68_PER_T90 } from "./water.ts";

export type DissolvedGas = "N2" | "Ar" | "O2";

interface GasFit {
  readonly formula: string;
  readonly a: readonly number[];
  readonly b: readonly number[];
  readonly squared: number;
  /** The temperature scale the fit was made on. */
  readonly scale: number;
}

const FITS: Readonly<Record<DissolvedGas, GasFit>> = {
  N2: {
    formula: "Hamme & Emerson 2004",
    a: [6.42931, 2.92704, 4.32531, 4.69149],
    b: [-7.44129e-3, -8.02566e-3, -1.46775e-2],
    squared: 0,
    scale: 1,
  },
  Ar: {
    formula: "Hamme & Emerson 2004",
    a: [2.7915, 3.17609, 4.13116, 4.90379],
    b: [-6.96233e-3, -7.6667e-3, -1.16888e-2],
    squared: 0,
    scale: 1,
  },
  O2: {
    formula: "Garcia & Gordon 1992 (Benson & Krause data)",
    a: [5.80871, 3.20291, 4.17887, 5.10006, -9.86643e-2, 3.80369],
    b: [-7.01577e-3, -7.70028e-3, -1.13864e-2, -9.51519e-3],
    squared: -2.75915e-7,
    scale: T68_PER_T90,
  },
};

function polynomial(coefficients: readonly number[], x: number): number {
  return coefficients.reduceRight((sum, coefficient) => sum * x + coefficient, 0);
}

/**
 * Concentration of a gas, umol per kg of sea water, in equilibrium with moist air at one atmosphere. `t` °C, `s`
 * practical salinity. S 0-40 (Hamme & Emerson measured to 35), 0-40 °C for O2 and 0-30 °C for N2 and Ar; outside extrapolated.
 * Source: Hamme & Emerson 2004, Deep-Sea Res. I 51, 1517; Garcia & Gordon 1992, Limnol. Oceanogr. 37, 1307 (from memory).
 */
export function gasSolubility(gas: DissolvedGas, t: In<"Cel">, s: PracticalSalinity): Computed<number> {
  const fit = FITS[gas];
  const fault = waterFault(t, s);
  if (fault !== null) return invalid(fit.formula, fault);
  const scaled = t * fit.scale;
  const ts = Math.log((298.15 - scaled) / (KELVIN + scaled));
  const value = Math.exp(polynomial(fit.a, ts) + s * polynomial(fit.b, ts) + fit.squared * s * s);
  const warmest = gas === "O2" ? 40 : 30;
  const outside = t < 0 || t > warmest || s > 40;
  return {
    value,
    status: outside ? "extrapolated" : "ok",
    formula: fit.formula,
    note: outside ? `outside 0 to ${warmest} °C or S 0 to 40` : null,
  };
}
