import type { Basis } from "./basis.ts";
import { convertible } from "./convert.ts";
import { type QuantityId, quantity } from "./quantity.ts";
import { type Unit, type UnitDefinition, unitDefinition } from "./unit.ts";
import { readUnit } from "./unit-as-typed.ts";

export interface CanonicalUnit {
  /** The code understood from what was typed. */
  readonly from: string;
  /** The registry's unit of the quantity. */
  readonly unit: Unit;
  /** registry value = typed value * factor + offset */
  readonly factor: number;
  readonly offset: number;
  /** True when the typed unit named no basis and the registry's own was taken ("mg/L" for nitrate: as N). */
  readonly basisAssumed: boolean;
}

interface Substance {
  readonly basis?: Basis;
  /** Only bases of this family, or of none, may stand for the quantity. */
  readonly family?: string;
}

/** What a bare mg/L, mmol/L or mL/L counts for each quantity. Alkalinity has none: a bare mg/L of it has no agreed basis. */
const SUBSTANCES: Partial<Record<QuantityId, Substance>> = {
  total_ammonia: { basis: "N", family: "ammonia" },
  unionised_ammonia: { basis: "N", family: "ammonia" },
  nitrite: { basis: "N", family: "nitrite" },
  nitrate: { basis: "N", family: "nitrate" },
  phosphate: { basis: "P" },
  silicate: { basis: "SiO2" },
  alkalinity: { family: "alkalinity" },
  hardness: { basis: "CaCO3", family: "hardness" },
  chlorine: { basis: "Cl2" },
  total_chlorine: { basis: "Cl2" },
  total_residual_oxidant: { basis: "Cl2" },
  dissolved_oxygen: { basis: "O2" },
  ozone: { basis: "O3" },
  carbon_dioxide: { basis: "CO2" },
  calcium: { basis: "Ca" },
  magnesium: { basis: "Mg" },
  strontium: { basis: "Sr" },
  potassium: { basis: "K" },
  iodide: { basis: "I" },
  copper: { basis: "Cu" },
};

/** Labels that mean the registry's unit for one quantity only. Source: common practice. */
const OWN_LABELS: Partial<Record<QuantityId, Readonly<Record<string, string>>>> = {
  salinity: {
    psu: "1",
    ppt: "1",
    "‰": "1",
    "[ppth]": "1",
    "pss-78": "1",
    pss78: "1",
    pss: "1",
    "": "1",
  },
  specific_gravity: { sg: "1", "": "1" },
  aragonite_saturation: { "": "1" },
  calcite_saturation: { "": "1" },
  animal_count: { "": "1" },
  ph: { "": "[pH]", "1": "[pH]" },
  osmolality: { "mmol/kg": "mosm/kg" },
  alkalinity: { "mmol/l": "meq/L", "umol/l": "ueq/L" },
};

const BARE = /^(mg|ug|g|mmol|umol)\/L$/;

/** The code that counts the quantity's substance, for a bare code that counts nothing in particular. */
function withBasis(code: string, basis: Basis): string | undefined {
  if (code === "mL/L") return basis === "O2" ? "mL{O2}/L" : undefined;
  const prefix = BARE.exec(code)?.[1];
  return prefix === undefined || prefix === "g" ? undefined : `${prefix}{${basis}}/L`;
}

/**
 * How a value typed in `unitAsTyped` becomes a value in the registry's unit of `quantityId`.
 * Undefined for an unknown quantity, a state, an unknown unit, or one that does not convert exactly without knowing
 * more about the water (per-kilogram units, ppm, TDS, FNU ...): such a value is refused, not guessed.
 * Source: `unit.ts` and `basis.ts`.
 */
export function canonicalUnit(quantityId: string, unitAsTyped: string): CanonicalUnit | undefined {
  const asked = quantity(quantityId);
  if (asked?.kind !== "number") return undefined;
  const id = asked.id as QuantityId;
  const label = unitAsTyped.trim().toLowerCase();
  const own = OWN_LABELS[id];
  const code = own && Object.hasOwn(own, label) ? own[label] : readUnit(unitAsTyped);
  if (code === undefined) return undefined;
  const substance = SUBSTANCES[id] ?? {};
  const counted = (substance.basis && withBasis(code, substance.basis)) ?? code;
  const basisAssumed = asked.unit.includes("{") && counted !== code && /^[mu]g/.test(code);
  return linear(counted, asked.unit, substance, { from: code, basisAssumed });
}

/** The target of the arithmetic: a registry unit of plain mass stands for the mass of the quantity's own substance. */
function targetFor(counted: string, unit: Unit, basis: Basis | undefined): string {
  const isPlainMass = unitDefinition(unit)?.dimension === "mass per volume";
  if (basis === undefined || !isPlainMass || unitDefinition(counted)?.dimension === "mass per volume")
    return unit;
  return withBasis(unit, basis) ?? unit;
}

function linear(
  counted: string,
  unit: Unit,
  substance: Substance,
  told: Pick<CanonicalUnit, "from" | "basisAssumed">,
): CanonicalUnit | undefined {
  const target = targetFor(counted, unit, substance.basis);
  if (!convertible(counted, target)) return undefined;
  const a = unitDefinition(counted) as UnitDefinition;
  const b = unitDefinition(target) as UnitDefinition;
  const families = [a.family ?? null, substance.family ?? null];
  if (!families.includes(null) && families[0] !== families[1]) return undefined;
  const factor = a.factor / b.factor;
  return {
    ...told,
    unit,
    factor,
    offset: (a.shift ?? 0) * factor - (b.shift ?? 0),
  };
}
