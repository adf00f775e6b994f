import { BASES, type Basis } from "./basis.ts";
import { PLAIN_UNITS, unitDefinition } from "./unit.ts";

/**
 * Ways units are written on instruments, kits and forms. Keys are lower case without spaces. "ppm" is absent on
 * purpose: it may mean mg/L or mg/kg, and in sea water those differ by more than two in a hundred. Gallons are US gallons
 * unless "imp" is written. Source: common practice.
 */
const SPELLINGS: Readonly<Record<string, string>> = {
  "°c": "Cel",
  degc: "Cel",
  c: "Cel",
  celsius: "Cel",
  "°f": "[degF]",
  degf: "[degF]",
  f: "[degF]",
  fahrenheit: "[degF]",
  kelvin: "K",
  ph: "[pH]",
  mmhg: "mm[Hg]",
  torr: "mm[Hg]",
  inhg: "[in_i'Hg]",
  psi: "[psi]",
  millibar: "mbar",
  cmh2o: "cm[H2O]",
  mh2o: "m[H2O]",
  dkh: "[dKH]",
  "°dkh": "[dKH]",
  kh: "[dKH]",
  dgh: "[dGH]",
  "°dgh": "[dGH]",
  gh: "[dGH]",
  "{ntu}": "NTU",
  "[ntu]": "NTU",
  "mpn/100ml": "{MPN}/100mL",
  "mpn/ml": "{MPN}/mL",
  "cfu/ml": "{CFU}/mL",
  "cfu/100ml": "{CFU}/100mL",
  "mosmol/kg": "mosm/kg",
  "osmol/kg": "osm/kg",
  "mosm/kgh2o": "mosm/kg",
  "m^3/h": "m3/h",
  "m3/hr": "m3/h",
  cmh: "m3/h",
  lpm: "L/min",
  lph: "L/h",
  "l/hr": "L/h",
  gpm: "[gal_us]/min",
  "gal/min": "[gal_us]/min",
  "impgal/min": "[gal_br]/min",
  gal: "[gal_us]",
  impgal: "[gal_br]",
  in: "[in_i]",
  inch: "[in_i]",
  ft: "[ft_i]",
  feet: "[ft_i]",
  litre: "L",
  liter: "L",
  "m^3": "m3",
  lux: "lx",
  klux: "klx",
  "umol/m2s": "umol/m2/s",
  "umol/(m2.s)": "umol/m2/s",
  "umolm-2s-1": "umol/m2/s",
  "umol/m^2/s": "umol/m2/s",
  hr: "h",
  hour: "h",
  hours: "h",
  sec: "s",
  "1/min": "/min",
  bpm: "/min",
  "1/h": "/h",
  "1/s": "/s",
  hz: "/s",
};

const BY_LOWER_CASE: ReadonlyMap<string, string> = new Map([
  ...Object.keys(PLAIN_UNITS).map((code) => [code.toLowerCase(), code] as const),
  ...Object.entries(SPELLINGS),
]);

/** `mg/L as NO3`, `mg/l (as N)`, `mg/L-N`, `mg/L NH4`, `mg NO3/L`: prefix, then basis after or before the slash. */
const BASIS_AFTER = /^(mg|ug|mmol|umol)\/(l|kg)[\s(-]*(?:as\s*)?([a-z0-9]+)\)?$/i;
const BASIS_BEFORE = /^(mg|ug|mmol|umol)[\s-]*([a-z0-9]+)\/(l|kg)$/i;
const SYMBOLS = Object.keys(BASES) as readonly Basis[];

function basisSymbol(text: string): Basis | undefined {
  return SYMBOLS.find((symbol) => symbol.toLowerCase() === text.toLowerCase());
}

/** Subscripts, superscripts and Greek letters as they are typed, in plain letters. */
function plain(text: string): string {
  return text.normalize("NFKC").replace(/[μµ]/g, "u").replace(/[⁻−]/g, "-").trim();
}

/**
 * The unit code meant by `typed`, or undefined. Also gives the bare amounts `mmol/L`, `umol/L`, `mL/L` and their
 * per-kilogram forms, which are no units by themselves: what they count must come from the quantity.
 */
export function readUnit(typed: string): string | undefined {
  if (unitDefinition(typed) !== undefined) return typed;
  const text = plain(typed);
  if (unitDefinition(text) !== undefined) return text;
  const compact = text.replace(/\s+/g, "").toLowerCase();
  const known = BY_LOWER_CASE.get(compact);
  if (known !== undefined) return known;
  const bare = /^(mmol|umol|ml)\/(l|kg)$/.exec(compact);
  if (bare) return `${bare[1] === "ml" ? "mL" : bare[1]}/${bare[2] === "l" ? "L" : "kg"}`;
  const after = BASIS_AFTER.exec(text);
  const before = BASIS_BEFORE.exec(text);
  const [prefix, per, symbol] = after
    ? [after[1], after[2], after[3]]
    : before
      ? [before[1], before[3], before[2]]
      : [undefined, undefined, undefined];
  if (prefix === undefined || per === undefined || symbol === undefined) return undefined;
  const basis = basisSymbol(symbol);
  if (basis === undefined) return undefined;
  return `${prefix.toLowerCase()}{${basis}}/${per.toLowerCase() === "l" ? "L" : "kg"}`;
}
