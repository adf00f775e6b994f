import { BASES, type Basis, isBasis } from "./basis.ts";

/**
 * One unit: `base = (value + shift) * factor`, in the base unit of its dimension. `perMass` marks amounts per
 * kilogram of water, which meet amounts per litre only through a density.
 */
export interface UnitDefinition {
  readonly dimension: string;
  readonly factor: number;
  readonly shift?: number;
  readonly perMass?: boolean;
  readonly family?: string | null;
}

/** Standard atmosphere, hPa (by definition), and the conventional millimetre of mercury, 760 of them to the atmosphere. */
const ATMOSPHERE_HPA = 1013.25;
const MMHG_HPA = ATMOSPHERE_HPA / 760;
const US_GALLON_L = 3.785411784;
const IMPERIAL_GALLON_L = 4.54609;

/**
 * Units written as UCUM codes. Not UCUM, but ours: `[dKH]` and `[dGH]` (German degrees, 10 mg/L CaO each),
 * `NTU` (strict UCUM would only allow `{NTU}`), `{MPN}/100mL` and `{CFU}/100mL` (strict: `/(100.mL)`), `uatm`
 * (UCUM gives atm no prefixes). Factors are definitions: SI, the international inch and gallon, the conventional atmosphere.
 */
export const PLAIN_UNITS = {
  "1": { dimension: "number", factor: 1 },
  "%": { dimension: "percent", factor: 1 },
  "[pH]": { dimension: "pH", factor: 1 },
  Cel: { dimension: "temperature", factor: 1 },
  K: { dimension: "temperature", factor: 1, shift: -273.15 },
  "[degF]": { dimension: "temperature", factor: 5 / 9, shift: -32 },
  "mS/cm": { dimension: "conductivity", factor: 1 },
  "uS/cm": { dimension: "conductivity", factor: 1e-3 },
  "mS/m": { dimension: "conductivity", factor: 1e-2 },
  "S/m": { dimension: "conductivity", factor: 10 },
  hPa: { dimension: "pressure", factor: 1 },
  Pa: { dimension: "pressure", factor: 1e-2 },
  kPa: { dimension: "pressure", factor: 10 },
  mbar: { dimension: "pressure", factor: 1 },
  bar: { dimension: "pressure", factor: 1000 },
  dbar: { dimension: "pressure", factor: 100 },
  atm: { dimension: "pressure", factor: ATMOSPHERE_HPA },
  uatm: { dimension: "pressure", factor: ATMOSPHERE_HPA * 1e-6 },
  "mm[Hg]": { dimension: "pressure", factor: MMHG_HPA },
  "[in_i'Hg]": { dimension: "pressure", factor: 25.4 * MMHG_HPA },
  "[psi]": { dimension: "pressure", factor: 68.94757293168361 },
  "cm[H2O]": { dimension: "pressure", factor: 0.980665 },
  "m[H2O]": { dimension: "pressure", factor: 98.0665 },
  uV: { dimension: "voltage", factor: 1e-3 },
  mV: { dimension: "voltage", factor: 1 },
  V: { dimension: "voltage", factor: 1000 },
  "mg/L": { dimension: "mass per volume", factor: 1 },
  "ug/L": { dimension: "mass per volume", factor: 1e-3 },
  "g/L": { dimension: "mass per volume", factor: 1000 },
  "g/m3": { dimension: "mass per volume", factor: 1 },
  "mg/m3": { dimension: "mass per volume", factor: 1e-3 },
  "kg/m3": { dimension: "mass per volume", factor: 1000 },
  "kg/L": { dimension: "mass per volume", factor: 1e6 },
  "g/cm3": { dimension: "mass per volume", factor: 1e6 },
  "g/mL": { dimension: "mass per volume", factor: 1e6 },
  "mg/kg": { dimension: "mass per volume", factor: 1, perMass: true },
  "ug/kg": { dimension: "mass per volume", factor: 1e-3, perMass: true },
  "meq/L": { dimension: "amount of charge", factor: 1, family: null },
  "ueq/L": { dimension: "amount of charge", factor: 1e-3, family: null },
  "meq/kg": {
    dimension: "amount of charge",
    factor: 1,
    perMass: true,
    family: null,
  },
  "ueq/kg": {
    dimension: "amount of charge",
    factor: 1e-3,
    perMass: true,
    family: null,
  },
  "[dKH]": {
    dimension: "amount of charge",
    factor: 1 / 2.80385,
    family: "alkalinity",
  },
  "[dGH]": {
    dimension: "amount of charge",
    factor: 1 / 2.80385,
    family: "hardness",
  },
  "mL{O2}/L": {
    dimension: "amount of oxygen",
    factor: 1.42905 / BASES.O2.molarMass,
    family: null,
  },
  NTU: { dimension: "turbidity", factor: 1 },
  "{MPN}/100mL": { dimension: "most probable number", factor: 1 },
  "{MPN}/mL": { dimension: "most probable number", factor: 100 },
  "{CFU}/mL": { dimension: "colony count", factor: 1 },
  "{CFU}/100mL": { dimension: "colony count", factor: 1e-2 },
  "mosm/kg": { dimension: "osmolality", factor: 1 },
  "osm/kg": { dimension: "osmolality", factor: 1000 },
  "m3/h": { dimension: "flow", factor: 1 },
  "m3/s": { dimension: "flow", factor: 3600 },
  "m3/d": { dimension: "flow", factor: 1 / 24 },
  "L/s": { dimension: "flow", factor: 3.6 },
  "L/min": { dimension: "flow", factor: 0.06 },
  "L/h": { dimension: "flow", factor: 1e-3 },
  "[gal_us]/min": { dimension: "flow", factor: US_GALLON_L * 0.06 },
  "[gal_br]/min": { dimension: "flow", factor: IMPERIAL_GALLON_L * 0.06 },
  mm: { dimension: "length", factor: 1 },
  cm: { dimension: "length", factor: 10 },
  m: { dimension: "length", factor: 1000 },
  "[in_i]": { dimension: "length", factor: 25.4 },
  "[ft_i]": { dimension: "length", factor: 304.8 },
  mL: { dimension: "volume", factor: 1e-3 },
  L: { dimension: "volume", factor: 1 },
  m3: { dimension: "volume", factor: 1000 },
  "[gal_us]": { dimension: "volume", factor: US_GALLON_L },
  "[gal_br]": { dimension: "volume", factor: IMPERIAL_GALLON_L },
  W: { dimension: "power", factor: 1e-3 },
  kW: { dimension: "power", factor: 1 },
  lx: { dimension: "illuminance", factor: 1 },
  klx: { dimension: "illuminance", factor: 1000 },
  "umol/m2/s": { dimension: "photon flux", factor: 1 },
  s: { dimension: "time", factor: 1 / 3600 },
  min: { dimension: "time", factor: 1 / 60 },
  h: { dimension: "time", factor: 1 },
  d: { dimension: "time", factor: 24 },
  "/s": { dimension: "rate", factor: 60 },
  "/min": { dimension: "rate", factor: 1 },
  "/h": { dimension: "rate", factor: 1 / 60 },
} as const satisfies Record<string, UnitDefinition>;

/** `mg{N}/L`, `umol{P}/kg` ...: a concentration with what it counts. */
export type BasisUnit = `${"mg" | "ug" | "mmol" | "umol"}{${Basis}}/${"L" | "kg"}`;
export type Unit = keyof typeof PLAIN_UNITS | BasisUnit;

const BASIS_UNIT = /^(mg|ug|mmol|umol)\{([A-Za-z0-9]+)\}\/(L|kg)$/;

/** The definition of a unit code, or undefined for text that is not one. Codes are case-sensitive, as in UCUM. */
export function unitDefinition(code: string): UnitDefinition | undefined {
  if (Object.hasOwn(PLAIN_UNITS, code)) return PLAIN_UNITS[code as keyof typeof PLAIN_UNITS];
  const [, prefix, basis, per] = BASIS_UNIT.exec(code) ?? [];
  if (prefix === undefined || basis === undefined || !isBasis(basis)) return undefined;
  const { molarMass, counts, each, family } = BASES[basis];
  const milli = prefix.startsWith("m") ? 1 : 1e-3;
  const perFormula = prefix.endsWith("mol") ? 1 : 1 / molarMass;
  return {
    dimension: `amount of ${counts}`,
    factor: milli * perFormula * each,
    perMass: per === "kg",
    family,
  };
}

/** True when `code` is a unit this project knows. */
export function isUnit(code: string): code is Unit {
  return unitDefinition(code) !== undefined;
}

declare const unitOf: unique symbol;
/** A number that remembers its unit at compile time. Arithmetic gives a bare number back, to be tagged again on purpose. */
export type In<U extends Unit> = number & { readonly [unitOf]: U };

/** Practical salinity (PSS-78) has no unit; it shares the code `1` with other pure numbers. */
export type PracticalSalinity = In<"1">;

const tagger =
  <U extends Unit>() =>
  (value: number): In<U> =>
    value as In<U>;

/** Constructors: tag a number with the unit it is already in. They neither convert nor check. */
export const degC = tagger<"Cel">();
export const msPerCm = tagger<"mS/cm">();
export const usPerCm = tagger<"uS/cm">();
export const psu = tagger<"1">();
export const pureNumber = tagger<"1">();
export const percent = tagger<"%">();
export const phUnits = tagger<"[pH]">();
export const dbar = tagger<"dbar">();
export const hPa = tagger<"hPa">();
export const mmHg = tagger<"mm[Hg]">();
export const microatm = tagger<"uatm">();
export const millivolts = tagger<"mV">();
export const metres = tagger<"m">();
export const mgPerL = tagger<"mg/L">();
export const mgPerLAsN = tagger<"mg{N}/L">();
export const mgPerLAsNH3 = tagger<"mg{NH3}/L">();
export const meqPerL = tagger<"meq/L">();
export const umolCarbonPerKg = tagger<"umol{CO2}/kg">();
