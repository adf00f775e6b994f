import {
  fluorideNumber,
  freeToSwsNumber,
  freeToTotalNumber,
  lnKfNumber,
  lnKsNumber,
  sulphateNumber,
} from "./ph-scale.ts";
import { powerOfTen } from "./power-of-ten.ts";
import { KELVIN, type Water } from "./water.ts";

/**
 * The set of dissociation constants of carbonic acid. `lueker` sea water (Lueker et al. 2000), `waters` brackish to sea
 * water (Waters, Millero & Woosley 2014), `fresh` (Millero 1979).
 */
export type CarbonateConstantSet = "lueker" | "waters" | "fresh";

/** The set that belongs to a water. */
export function constantSetFor(water: Water): CarbonateConstantSet {
  if (water === "fresh") return "fresh";
  return water === "brackish" ? "waters" : "lueker";
}

/** ln K0, CO2 solubility, mol/(kg atm). Source: Weiss 1974, Mar. Chem. 2, 203. */
export function lnK0Number(t: number, s: number): number {
  const Th = (t + KELVIN) / 100;
  return (
    -60.2409 + 93.4517 / Th + 23.3585 * Math.log(Th) + s * (0.023517 + Th * (-0.023656 + Th * 0.0047036))
  );
}

/** pK1, pK2 on total scale. Source: Lueker, Dickson & Keeling 2000, Mar. Chem. 70, 105. */
export function luekerPkNumbers(t: number, s: number): readonly [pk1: number, pk2: number] {
  const T = t + KELVIN;
  const lnT = Math.log(T);
  return [
    3633.86 / T - 61.2172 + 9.6777 * lnT - 0.011555 * s + 0.0001152 * s * s,
    471.78 / T + 25.929 - 3.16967 * lnT - 0.01781 * s + 0.0001122 * s * s,
  ];
}

/** pK1, pK2 on sea-water scale; at s = 0 those of Millero 1979. Source: Waters, Millero & Woosley 2014, Mar. Chem. 165, 66. */
export function watersSwsPkNumbers(t: number, s: number): readonly [pk1: number, pk2: number] {
  const T = t + KELVIN;
  const lnT = Math.log(T);
  const r = Math.sqrt(s);
  return [
    -126.34048 +
      6320.813 / T +
      19.568224 * lnT +
      13.40916 * r +
      0.031646 * s -
      5.1895e-5 * s * s +
      (-531.3642 * r - 5.713 * s) / T -
      2.0669166 * r * lnT,
    -90.18333 +
      5143.692 / T +
      14.613358 * lnT +
      21.22589 * r +
      0.1245087 * s -
      3.7243e-4 * s * s +
      (-779.3444 * r - 19.91739 * s) / T -
      3.3534679 * r * lnT,
  ];
}

/** ln KB, boric acid, total scale. Source: Dickson 1990, Deep-Sea Res. 37, 755. */
export function lnKbNumber(t: number, s: number): number {
  const T = t + KELVIN;
  const r = Math.sqrt(s);
  return (
    (-8966.9 - 2890.53 * r - 77.942 * s + 1.728 * s * r - 0.0996 * s * s) / T +
    148.0248 +
    137.1942 * r +
    1.62142 * s +
    (-24.4344 - 25.085 * r - 0.2474 * s) * Math.log(T) +
    0.053105 * r * T
  );
}

/** ln KW, water, sea-water scale. Source: Millero 1995, Geochim. Cosmochim. Acta 59, 661. */
export function lnKwSwsNumber(t: number, s: number): number {
  const T = t + KELVIN;
  const lnT = Math.log(T);
  const r = Math.sqrt(s);
  return 148.9802 - 13847.26 / T - 23.6521 * lnT + (-5.977 + 118.67 / T + 1.0495 * lnT) * r - 0.01615 * s;
}

/** ln KW, water, total scale. Source: Millero 1995, Geochim. Cosmochim. Acta 59, 661, from the sea-water scale. */
export function lnKwNumber(t: number, s: number): number {
  return lnKwSwsNumber(t, s) + Math.log(freeToTotalNumber(t, s) / freeToSwsNumber(t, s));
}

/** log10 of the solubility products of calcite and aragonite, mol2/kg2. Source: Mucci 1983, Am. J. Sci. 283, 780. */
export function log10CalciteNumber(t: number, s: number): number {
  const T = t + KELVIN;
  const r = Math.sqrt(s);
  return (
    -171.9065 -
    0.077993 * T +
    2839.319 / T +
    71.595 * Math.log10(T) +
    (-0.77712 + 0.0028426 * T + 178.34 / T) * r -
    0.07711 * s +
    0.0041249 * s * r
  );
}

/** As `log10CalciteNumber`, for aragonite. Source: Mucci 1983. */
export function log10AragoniteNumber(t: number, s: number): number {
  const T = t + KELVIN;
  const r = Math.sqrt(s);
  return (
    -171.945 -
    0.077993 * T +
    2903.293 / T +
    71.595 * Math.log10(T) +
    (-0.068393 + 0.0017276 * T + 88.135 / T) * r -
    0.10018 * s +
    0.0059415 * s * r
  );
}

/** Fugacity of CO2 over its partial pressure at one atmosphere. Source: Weiss 1974. */
export function fugacityFactorNumber(t: number): number {
  const T = t + KELVIN;
  const virial = -1636.75 + 12.0408 * T - 0.0327957 * T * T + 3.16528e-5 * T * T * T;
  return Math.exp(((virial + 2 * (57.7 - 0.118 * T)) * 1.01325) / (83.1451 * T));
}

/**
 * Alkalinity of everything but carbonate at hydrogen ion h, mol/kg on the total scale: borate and hydroxide, less hydrogen ion,
 * bisulphate and hydrogen fluoride. Source: Dickson, Sabine & Christian 2007.
 */
export function minorAlkalinityNumber(
  boron: number,
  kb: number,
  kw: number,
  sulphate: number,
  ks: number,
  fluoride: number,
  kf: number,
  freeToTotal: number,
  h: number,
): number {
  const free = h / freeToTotal;
  return (boron * kb) / (kb + h) + kw / h - free - sulphate / (1 + ks / free) - fluoride / (1 + kf / free);
}

/** Share of carbon as equivalents of alkalinity at h: HCO3 once, CO3 twice. */
export function equivalentsPerCarbonNumber(k1: number, k2: number, h: number): number {
  return (k1 * h + 2 * k1 * k2) / (h * h + k1 * h + k1 * k2);
}

/** Total boron, mol/kg. Source: Uppstrom 1974. */
export function boronNumber(s: number): number {
  return (0.0004157 * s) / 35;
}

/** Total calcium, mol/kg. Source: Riley & Tongudai 1967. */
export function calciumNumber(s: number): number {
  return ((0.02128 / 40.087) * s) / 1.80655;
}

/** Everything the solver needs at one temperature and salinity; mol/kg of water sample, total scale. */
export interface CarbonateConstants {
  readonly k0: number;
  readonly k1: number;
  readonly k2: number;
  readonly kb: number;
  readonly kw: number;
  readonly ks: number;
  readonly kf: number;
  readonly kCalcite: number;
  readonly kAragonite: number;
  readonly fugacityFactor: number;
  readonly freeToTotal: number;
  readonly totalBoron: number;
  readonly totalSulphate: number;
  readonly totalFluoride: number;
  readonly totalCalcium: number;
}

/** Davies equation: how far ions of charge 1 lower log10 of their activity; I in mol/L. Source: Davies 1962 (from memory). */
function daviesLog(ionicStrength: number): number {
  const root = Math.sqrt(ionicStrength);
  return -0.509 * (root / (1 + root) - 0.3 * ionicStrength);
}

/**
 * All constants of a set in plain numbers; t in °C, s practical salinity, nothing is checked. `fresh` ignores s and may be given
 * an ionic strength in mol/L. Sources: at each function.
 */
export function carbonateConstants(
  set: CarbonateConstantSet,
  t: number,
  s: number,
  ionicStrength = 0,
): CarbonateConstants {
  const salt = set === "fresh" ? 0 : s;
  // The two acids that part the scales are worked out once: they are most of the cost.
  const ks = Math.exp(lnKsNumber(t, salt));
  const kf = Math.exp(lnKfNumber(t, salt));
  const totalSulphate = sulphateNumber(salt);
  const totalFluoride = fluorideNumber(salt);
  const freeToTotal = 1 + totalSulphate / ks;
  const swsToTotal = freeToTotal / (freeToTotal + totalFluoride / kf);
  let [pk1, pk2] = set === "lueker" ? luekerPkNumbers(t, salt) : watersSwsPkNumbers(t, salt);
  if (set === "waters") {
    const step = Math.log10(swsToTotal);
    pk1 -= step;
    pk2 -= step;
  } else if (set === "fresh") {
    const davies = daviesLog(ionicStrength);
    pk1 += davies;
    pk2 += 3 * davies;
  }
  return {
    k0: Math.exp(lnK0Number(t, salt)),
    k1: powerOfTen(-pk1),
    k2: powerOfTen(-pk2),
    kb: Math.exp(lnKbNumber(t, salt)),
    kw: Math.exp(lnKwSwsNumber(t, salt)) * swsToTotal,
    ks,
    kf,
    kCalcite: powerOfTen(log10CalciteNumber(t, salt)),
    kAragonite: powerOfTen(log10AragoniteNumber(t, salt)),
    fugacityFactor: fugacityFactorNumber(t),
    freeToTotal,
    totalBoron: boronNumber(salt),
    totalSulphate,
    totalFluoride,
    totalCalcium: calciumNumber(salt),
  };
}
