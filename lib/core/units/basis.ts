/**
 * What a concentration counts. "3 mg/L nitrate" is two different waters depending on whether the nitrogen or the
 * whole ion was weighed, so the basis is a part of the unit code, as a UCUM annotation: `mg{N}/L`, `mg{NO3}/L`.
 * UCUM itself ignores annotations; here they decide what may be converted into what.
 *
 * `counts` is what two bases must share to be converted: the element for nutrients, charge for alkalinity and
 * hardness, the two electrons of an oxidant. `each` is how many of it one formula unit holds. `family` keeps
 * nitrate from turning into ammonia through their common nitrogen: bases of two different families do not convert.
 *
 * Source: IUPAC conventional and abridged standard atomic weights (H 1.008, C 12.011, N 14.007, O 15.999,
 * Na 22.990, Mg 24.305, Si 28.085, P 30.973762, S 32.06, Cl 35.45, K 39.0983, Ca 40.078, Cu 63.546, Sr 87.62,
 * Br 79.904, I 126.90447). Oxidants are equal mole for mole, two electrons each (Standard Methods 4500-Cl, from memory).
 */
export interface BasisDefinition {
  /** Molar mass, g/mol. */
  readonly molarMass: number;
  readonly counts: string;
  readonly each: number;
  readonly family: string | null;
}

export const BASES = {
  N: { molarMass: 14.007, counts: "nitrogen", each: 1, family: null },
  NO3: { molarMass: 62.004, counts: "nitrogen", each: 1, family: "nitrate" },
  NO2: { molarMass: 46.005, counts: "nitrogen", each: 1, family: "nitrite" },
  NH3: { molarMass: 17.031, counts: "nitrogen", each: 1, family: "ammonia" },
  NH4: { molarMass: 18.039, counts: "nitrogen", each: 1, family: "ammonia" },
  P: { molarMass: 30.973762, counts: "phosphorus", each: 1, family: null },
  PO4: {
    molarMass: 94.969762,
    counts: "phosphorus",
    each: 1,
    family: "phosphate",
  },
  P2O5: {
    molarMass: 141.942524,
    counts: "phosphorus",
    each: 2,
    family: "phosphate",
  },
  Si: { molarMass: 28.085, counts: "silicon", each: 1, family: null },
  SiO2: { molarMass: 60.083, counts: "silicon", each: 1, family: "silicate" },
  CaCO3: { molarMass: 100.086, counts: "charge", each: 2, family: null },
  Cl2: { molarMass: 70.9, counts: "oxidant", each: 1, family: null },
  O3: { molarMass: 47.997, counts: "oxidant", each: 1, family: null },
  Br2: { molarMass: 159.808, counts: "oxidant", each: 1, family: null },
  HOCl: { molarMass: 52.457, counts: "oxidant", each: 1, family: null },
  HOBr: { molarMass: 96.911, counts: "oxidant", each: 1, family: null },
  O2: { molarMass: 31.998, counts: "oxygen", each: 1, family: null },
  CO2: { molarMass: 44.009, counts: "carbon dioxide", each: 1, family: null },
  Ca: { molarMass: 40.078, counts: "calcium", each: 1, family: null },
  Mg: { molarMass: 24.305, counts: "magnesium", each: 1, family: null },
  Sr: { molarMass: 87.62, counts: "strontium", each: 1, family: null },
  K: { molarMass: 39.0983, counts: "potassium", each: 1, family: null },
  I: { molarMass: 126.90447, counts: "iodine", each: 1, family: null },
  Cu: { molarMass: 63.546, counts: "copper", each: 1, family: null },
} as const satisfies Record<string, BasisDefinition>;

export type Basis = keyof typeof BASES;

/** True when `text` is the symbol of a known basis, written as in `BASES`. */
export function isBasis(text: string): text is Basis {
  return Object.hasOwn(BASES, text);
}
