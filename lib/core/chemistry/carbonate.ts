import type { In, PracticalSalinity } from "../units/unit.ts";
import {
  type CarbonateConstantSet,
  type CarbonateConstants,
  carbonateConstants,
  constantSetFor,
  equivalentsPerCarbonNumber,
  minorAlkalinityNumber,
} from "./carbonate-constants.ts";
import { densityNumber } from "./density.ts";
import { nbsCaution, nbsOutside, type PhScale, phFault, toTotalStepNumber } from "./ph-scale.ts";
import { powerOfTen } from "./power-of-ten.ts";
import { type Computed, invalid, NOT_A_NUMBER, waterFault } from "./result.ts";
import { type Water, waterFromSalinity } from "./water.ts";

/** Molar masses, g/mol: CO2 and Ca (IUPAC abridged weights). */
const CO2_G_PER_MOL = 44.009;
const CA_G_PER_MOL = 40.078;

/** meq/L, umol/kg or uatm: one atmosphere of pure CO2 is the most that can stand over water here. */
export const BEYOND_ANY_WATER = 1e6;

const FORMULAS: Readonly<Record<CarbonateConstantSet, string>> = {
  lueker: "Lueker et al. 2000, Dickson 1990, Weiss 1974, Mucci 1983",
  waters: "Waters et al. 2014, Dickson 1990, Weiss 1974, Mucci 1983",
  fresh: "Millero 1979, Weiss 1974",
};

export interface CarbonateWater {
  /** Water, °C; a pH must have been read at this temperature. */
  readonly t: In<"Cel">;
  readonly s: PracticalSalinity;
  /** Default by salinity, as `waterFromSalinity`; chooses the constants. */
  readonly water?: Water;
  readonly constants?: CarbonateConstantSet;
  /** Measured calcium, mg/L: artificial salt and calcium dosing scale the saturation states with it. Default: by salinity. */
  readonly calcium?: In<"mg/L">;
  /** Fresh water only: ionic strength in mol/L (about 1.6e-5 per uS/cm, from memory), for the Davies correction. Default 0. */
  readonly ionicStrength?: number;
}

interface WithPh {
  readonly ph: In<"[pH]">;
  /** Default `nbs`. In fresh water every scale is taken as read. */
  readonly phScale?: PhScale;
}

export type CarbonateFromPh = CarbonateWater & WithPh & { readonly alkalinity: In<"meq/L"> };

/** The whole carbonate system of one water. Amounts in umol per kg of water unless said otherwise. */
export interface CarbonateSystem {
  readonly phTotal: In<"[pH]">;
  readonly alkalinity: In<"meq/L">;
  readonly alkalinityPerKg: In<"ueq/kg">;
  readonly dissolvedInorganicCarbon: In<"umol{CO2}/kg">;
  readonly co2: In<"umol{CO2}/kg">;
  readonly bicarbonate: In<"umol{CO2}/kg">;
  readonly carbonate: In<"umol{CO2}/kg">;
  /** Dissolved CO2, mg/L. */
  readonly carbonDioxide: In<"mg/L">;
  readonly fco2: In<"uatm">;
  readonly pco2: In<"uatm">;
  /** Null where calcium is not known: fresh water without a measured one. Fresh water's are null always: the products are those of sea water. */
  readonly calciteSaturation: In<"1"> | null;
  readonly aragoniteSaturation: In<"1"> | null;
}

export type CarbonateResult = Computed<CarbonateSystem>;

interface Setting {
  readonly set: CarbonateConstantSet;
  readonly formula: string;
  readonly k: CarbonateConstants;
  readonly kgPerL: number;
  readonly outside: string | null;
}

function setOf(input: CarbonateWater): CarbonateConstantSet {
  return input.constants ?? constantSetFor(input.water ?? waterFromSalinity(input.s));
}

/** What lies outside the range of a set of constants, or null. */
export function carbonateOutside(set: CarbonateConstantSet, t: number, s: number): string | null {
  if (set === "lueker")
    return s < 19 || s > 43 || t < 2 || t > 35 ? "outside S 19 to 43 or 2 to 35 °C" : null;
  if (set === "waters") return s < 1 || s > 50 || t < 0 || t > 50 ? "outside S 1 to 50 or 0 to 50 °C" : null;
  return s >= 1 || t < 0 || t > 50 ? "outside S below 1 or 0 to 50 °C" : null;
}

function faultOf(input: CarbonateWater, ...amounts: readonly number[]): string | null {
  if (!amounts.every(Number.isFinite)) return NOT_A_NUMBER;
  if (amounts.some((amount) => Math.abs(amount) > BEYOND_ANY_WATER)) return "an amount is impossibly high";
  const calcium = input.calcium ?? 0;
  const ionic = input.ionicStrength ?? 0;
  if (!(calcium >= 0 && calcium <= BEYOND_ANY_WATER)) return "calcium is outside 0 to 1000000 mg/L";
  if (!(ionic >= 0 && ionic <= 0.1)) return "ionic strength is outside 0 to 0.1 mol/L";
  return waterFault(input.t, input.s);
}

function settingOf(input: CarbonateWater): Setting {
  const set = setOf(input);
  return {
    set,
    formula: FORMULAS[set],
    k: carbonateConstants(set, input.t, input.s, input.ionicStrength),
    kgPerL: densityNumber(input.s, input.t) / 1000,
    outside: carbonateOutside(set, input.t, input.s),
  };
}

/** `minorAlkalinityNumber` of a set of constants. */
function minorAlkalinity(k: CarbonateConstants, h: number): number {
  const { totalBoron, kb, kw, totalSulphate, ks, totalFluoride, kf, freeToTotal } = k;
  return minorAlkalinityNumber(totalBoron, kb, kw, totalSulphate, ks, totalFluoride, kf, freeToTotal, h);
}

/** The pH between 2 and 12 at which a rising function is zero; null when it has no zero there. */
function bisectPh(rising: (h: number) => number): number | null {
  let low = 2;
  let high = 12;
  if (rising(powerOfTen(-low)) > 0 || rising(powerOfTen(-high)) < 0) return null;
  while (high - low > 1e-12) {
    const middle = (low + high) / 2;
    if (middle === low || middle === high) break;
    if (rising(powerOfTen(-middle)) < 0) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Everything that follows from pH, alkalinity and carbon, all known by now; mol/kg. */
function describe(
  input: CarbonateWater,
  setting: Setting,
  phTotal: number,
  alkalinity: number,
  carbon: number,
  caution: string | null,
  outside: string | null = setting.outside,
): CarbonateResult {
  const { k, kgPerL, formula } = setting;
  const h = powerOfTen(-phTotal);
  const denominator = h * h + k.k1 * h + k.k1 * k.k2;
  const co2 = (carbon * h * h) / denominator;
  const carbonate = (carbon * k.k1 * k.k2) / denominator;
  const calcium =
    input.calcium === undefined ? k.totalCalcium : input.calcium / (1000 * CA_G_PER_MOL * kgPerL);
  const hasMinerals = setting.set !== "fresh";
  const value: CarbonateSystem = {
    phTotal: phTotal as In<"[pH]">,
    alkalinity: (alkalinity * 1e3 * kgPerL) as In<"meq/L">,
    alkalinityPerKg: (alkalinity * 1e6) as In<"ueq/kg">,
    dissolvedInorganicCarbon: (carbon * 1e6) as In<"umol{CO2}/kg">,
    co2: (co2 * 1e6) as In<"umol{CO2}/kg">,
    bicarbonate: ((carbon * k.k1 * h * 1e6) / denominator) as In<"umol{CO2}/kg">,
    carbonate: (carbonate * 1e6) as In<"umol{CO2}/kg">,
    carbonDioxide: (co2 * kgPerL * CO2_G_PER_MOL * 1000) as In<"mg/L">,
    fco2: ((co2 / k.k0) * 1e6) as In<"uatm">,
    pco2: ((co2 / k.k0 / k.fugacityFactor) * 1e6) as In<"uatm">,
    calciteSaturation: hasMinerals ? (((calcium * carbonate) / k.kCalcite) as In<"1">) : null,
    aragoniteSaturation: hasMinerals ? (((calcium * carbonate) / k.kAragonite) as In<"1">) : null,
  };
  return { value, status: outside === null ? "ok" : "extrapolated", formula, note: outside ?? caution };
}

const CONTRADICTION =
  "pH and alkalinity contradict each other: hydroxide and borate alone exceed the alkalinity";
const NO_PH = "no pH between 2 and 12 fits these amounts";

interface ReadPh {
  readonly total: number;
  readonly caution: string | null;
  readonly outside: string | null;
}

function readPh(input: CarbonateWater & WithPh, setting: Setting): ReadPh {
  const scale = input.phScale ?? "nbs";
  if (setting.set === "fresh") return { total: input.ph, caution: null, outside: setting.outside };
  const isNbs = scale === "nbs";
  return {
    total: input.ph + toTotalStepNumber(scale, input.t, input.s),
    caution: isNbs ? nbsCaution(input.s) : null,
    outside: setting.outside ?? (isNbs ? nbsOutside(input.t, input.s) : null),
  };
}

/**
 * Carbonate system from pH and alkalinity (meq/L). Constants by water: Lueker (S 19-43, 2-35 °C), Waters (S 1-50,
 * 0-50 °C), fresh (0-50 °C); outside extrapolated. Alkalinity that hydroxide and borate alone exceed: invalid.
 * A probe's pH allows two digits of pCO2: 0.05 in pH is 13 % of it. Phosphate, silicate, ammonia are left out.
 * Source: Dickson, Sabine & Christian 2007 (PICES Special Publication 3); constants at `carbonate-constants.ts`.
 */
export function carbonateFromPhAlkalinity(input: CarbonateFromPh): CarbonateResult {
  const formula = FORMULAS[setOf(input)];
  const fault = phFault(input.ph) ?? faultOf(input, input.alkalinity);
  if (fault !== null) return invalid(formula, fault);
  const setting = settingOf(input);
  const { total, caution, outside } = readPh(input, setting);
  const h = powerOfTen(-total);
  const alkalinity = input.alkalinity / (1000 * setting.kgPerL);
  const ofCarbon = alkalinity - minorAlkalinity(setting.k, h);
  if (ofCarbon <= 0) return invalid(formula, CONTRADICTION);
  const carbon = ofCarbon / equivalentsPerCarbonNumber(setting.k.k1, setting.k.k2, h);
  return describe(input, setting, total, alkalinity, carbon, caution, outside);
}

/**
 * Carbonate system from alkalinity (meq/L) and dissolved inorganic carbon (umol/kg). Range as
 * `carbonateFromPhAlkalinity`; no pH between 2 and 12: invalid. Source: Dickson, Sabine & Christian 2007.
 */
export function carbonateFromAlkalinityCarbon(
  input: CarbonateWater & {
    readonly alkalinity: In<"meq/L">;
    readonly dissolvedInorganicCarbon: In<"umol{CO2}/kg">;
  },
): CarbonateResult {
  const formula = FORMULAS[setOf(input)];
  const fault = faultOf(input, input.alkalinity, input.dissolvedInorganicCarbon);
  if (fault !== null) return invalid(formula, fault);
  if (input.dissolvedInorganicCarbon < 0) return invalid(formula, "carbon cannot be negative");
  const setting = settingOf(input);
  const alkalinity = input.alkalinity / (1000 * setting.kgPerL);
  const carbon = input.dissolvedInorganicCarbon * 1e-6;
  const { k } = setting;
  const ph = bisectPh(
    (h) => carbon * equivalentsPerCarbonNumber(k.k1, k.k2, h) + minorAlkalinity(k, h) - alkalinity,
  );
  return ph === null ? invalid(formula, NO_PH) : describe(input, setting, ph, alkalinity, carbon, null);
}

/**
 * Carbonate system from alkalinity (meq/L) and partial pressure of CO2 (uatm, water-saturated air at one atmosphere).
 * Range as `carbonateFromPhAlkalinity`; no pH between 2 and 12: invalid. Source: Dickson, Sabine & Christian 2007.
 */
export function carbonateFromAlkalinityPco2(
  input: CarbonateWater & { readonly alkalinity: In<"meq/L">; readonly pco2: In<"uatm"> },
): CarbonateResult {
  const formula = FORMULAS[setOf(input)];
  const fault = faultOf(input, input.alkalinity, input.pco2);
  if (fault !== null) return invalid(formula, fault);
  if (input.pco2 <= 0) return invalid(formula, "pCO2 must be above 0");
  const setting = settingOf(input);
  const alkalinity = input.alkalinity / (1000 * setting.kgPerL);
  const { k } = setting;
  const co2 = input.pco2 * 1e-6 * k.fugacityFactor * k.k0;
  const ph = bisectPh(
    (h) => co2 * (k.k1 / h + (2 * k.k1 * k.k2) / (h * h)) + minorAlkalinity(k, h) - alkalinity,
  );
  if (ph === null) return invalid(formula, NO_PH);
  const h = powerOfTen(-ph);
  const carbon = co2 * (1 + k.k1 / h + (k.k1 * k.k2) / (h * h));
  return describe(input, setting, ph, alkalinity, carbon, null);
}

/**
 * Carbonate system from pH and dissolved inorganic carbon (umol/kg). Range as `carbonateFromPhAlkalinity`.
 * Source: Dickson, Sabine & Christian 2007.
 */
export function carbonateFromPhCarbon(
  input: CarbonateWater & WithPh & { readonly dissolvedInorganicCarbon: In<"umol{CO2}/kg"> },
): CarbonateResult {
  const formula = FORMULAS[setOf(input)];
  const fault = phFault(input.ph) ?? faultOf(input, input.dissolvedInorganicCarbon);
  if (fault !== null) return invalid(formula, fault);
  if (input.dissolvedInorganicCarbon < 0) return invalid(formula, "carbon cannot be negative");
  const setting = settingOf(input);
  const { total, caution, outside } = readPh(input, setting);
  const h = powerOfTen(-total);
  const carbon = input.dissolvedInorganicCarbon * 1e-6;
  const alkalinity =
    carbon * equivalentsPerCarbonNumber(setting.k.k1, setting.k.k2, h) + minorAlkalinity(setting.k, h);
  return describe(input, setting, total, alkalinity, carbon, caution, outside);
}
