import { canonicalUnit } from "./canonical-unit.ts";
import { type NumberQuantityId, QUANTITIES } from "./quantity.ts";
import { type Unit, unitDefinition } from "./unit.ts";

/** A unit in which people may choose to see a quantity. */
export interface DisplayUnit {
  readonly unit: Unit;
  /** As people write it; empty for a pure number. */
  readonly label: string;
  readonly decimals: number;
}

/** How unit codes are written for people, where the code itself is not. Source: SI brochure; common practice for °dKH and gallons. */
const LABELS: Readonly<Record<string, string>> = {
  "1": "",
  "[pH]": "",
  Cel: "°C",
  "[degF]": "°F",
  "uS/cm": "µS/cm",
  uatm: "µatm",
  uV: "µV",
  "ug/L": "µg/L",
  "mm[Hg]": "mmHg",
  "[in_i'Hg]": "inHg",
  "[psi]": "psi",
  "cm[H2O]": "cmH₂O",
  "m[H2O]": "mH₂O",
  "[dKH]": "°dKH",
  "[dGH]": "°dGH",
  "ueq/L": "µeq/L",
  "ueq/kg": "µeq/kg",
  "mosm/kg": "mOsm/kg",
  "osm/kg": "Osm/kg",
  "kg/m3": "kg/m³",
  "g/m3": "g/m³",
  "g/cm3": "g/cm³",
  m3: "m³",
  "m3/h": "m³/h",
  "m3/s": "m³/s",
  "m3/d": "m³/d",
  "[gal_us]/min": "US gal/min",
  "[gal_br]/min": "imp gal/min",
  "[gal_us]": "US gal",
  "[gal_br]": "imp gal",
  "[in_i]": "in",
  "[ft_i]": "ft",
  "umol/m2/s": "µmol/m²/s",
  "{MPN}/100mL": "MPN/100 mL",
  "{CFU}/mL": "CFU/mL",
};

const COUNTED = /^(mg|ug|mmol|umol|mL)\{([A-Za-z0-9]+)\}\/(L|kg)$/;
const SUBSCRIPTS = "₀₁₂₃₄₅₆₇₈₉";

/** The unit as people write it: "°C", "mg/L as NO₃", "µmol/L". Source: SI brochure; the basis of a mass is always said. */
export function unitLabel(unit: string): string {
  const known = LABELS[unit];
  if (known !== undefined) return known;
  const [, prefix, basis, per] = COUNTED.exec(unit) ?? [];
  if (prefix === undefined || basis === undefined) return unit;
  const plain = `${prefix.replace("u", "µ")}/${per}`;
  if (!prefix.endsWith("g")) return plain;
  return `${plain} as ${basis.replace(/\d/g, (digit) => SUBSCRIPTS[Number(digit)] ?? digit)}`;
}

const OXIDANT: readonly Unit[] = ["mg{O3}/L", "mg{Br2}/L"];
const IN_L: readonly Unit[] = ["m3", "[gal_us]", "[gal_br]"];

/** What else than the registry's own unit a quantity may be shown and typed in. Each converts exactly, without knowing the water. */
const CHOICES: Partial<Record<NumberQuantityId, readonly Unit[]>> = {
  temperature: ["[degF]"],
  conductivity: ["uS/cm", "S/m"],
  specific_conductance: ["mS/cm"],
  density: ["g/cm3"],
  dissolved_oxygen: ["mL{O2}/L", "umol{O2}/L"],
  gas_excess: ["hPa", "kPa"],
  barometric_pressure: ["kPa", "mm[Hg]", "[in_i'Hg]", "atm"],
  carbon_dioxide: ["umol{CO2}/L"],
  total_ammonia: ["mg{NH3}/L", "mg{NH4}/L", "umol{N}/L"],
  unionised_ammonia: ["ug{N}/L", "mg{NH3}/L", "ug{NH3}/L", "umol{N}/L"],
  nitrite: ["mg{NO2}/L", "umol{N}/L"],
  nitrate: ["mg{NO3}/L", "umol{N}/L"],
  phosphate: ["mg{PO4}/L", "umol{P}/L"],
  silicate: ["mg{Si}/L", "umol{Si}/L"],
  alkalinity: ["[dKH]", "mg{CaCO3}/L", "ueq/L"],
  hardness: ["[dGH]", "meq/L"],
  calcium: ["mmol{Ca}/L"],
  magnesium: ["mmol{Mg}/L"],
  potassium: ["mmol{K}/L"],
  copper: ["ug/L"],
  chlorine: OXIDANT,
  total_chlorine: OXIDANT,
  total_residual_oxidant: OXIDANT,
  flow: ["L/min", "L/s", "[gal_us]/min", "[gal_br]/min"],
  level: ["cm", "[in_i]", "m"],
  filter_pressure_difference: ["bar", "[psi]", "m[H2O]"],
  make_up_volume: IN_L,
  illuminance: ["klx"],
};

/** As many decimals as tell the same difference apart: a unit ten times as large needs one more. */
function decimalsIn(quantity: NumberQuantityId, unit: Unit): number {
  const { decimals } = QUANTITIES[quantity];
  const factor = canonicalUnit(quantity, unit)?.factor ?? 1;
  return Math.min(6, Math.max(0, Math.round(decimals + Math.log10(factor))));
}

/** The units people may choose for a quantity; the registry's own comes first. Source: `CHOICES`. */
export function displayUnits(quantity: NumberQuantityId): readonly DisplayUnit[] {
  const { unit, unitLabel: label, decimals } = QUANTITIES[quantity];
  const others = (CHOICES[quantity] ?? []).map((code) => ({
    unit: code,
    label: unitLabel(code),
    decimals: decimalsIn(quantity, code),
  }));
  return [{ unit, label, decimals }, ...others];
}

function linear(quantity: NumberQuantityId, unit: Unit) {
  if (unit === QUANTITIES[quantity].unit) return { factor: 1, offset: 0 };
  const found = canonicalUnit(quantity, unit);
  if (found === undefined || unitDefinition(unit) === undefined)
    throw new RangeError(`${quantity} cannot be shown in "${unit}": use one of displayUnits("${quantity}")`);
  return found;
}

/** A value of the registry's unit in a chosen one. Throws RangeError where the unit does not convert exactly. Source: `convert`. */
export function toDisplay(value: number, quantity: NumberQuantityId, unit: Unit): number {
  const { factor, offset } = linear(quantity, unit);
  return (value - offset) / factor;
}

/** A value of a chosen unit in the registry's. Throws RangeError where the unit does not convert exactly. Source: `convert`. */
export function fromDisplay(value: number, quantity: NumberQuantityId, unit: Unit): number {
  const { factor, offset } = linear(quantity, unit);
  return value * factor + offset;
}
