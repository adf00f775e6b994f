import { canonicalUnit } from "../units/canonical-unit.ts";
import { type NumberQuantityId, QUANTITIES, QUANTITY_IDS, quantity } from "../units/quantity.ts";
import type { MeasuredAs, TypedUnit } from "./typed-number.ts";

/** A unit that a result may be typed in. `typed` is sent as the unit; `label` is what people read. */
export interface UnitChoice extends TypedUnit {
  readonly typed: string;
  readonly label: string;
}
/** One field of the bench form: what the registry says of its quantity, as plain data. */
export interface BenchField extends MeasuredAs {
  readonly quantity: string;
  /** The registry's unit first. */
  readonly units: readonly UnitChoice[];
}

const AMOUNT = ["mmol/L"];
const NITROGEN = ["umol/L"];
const OXIDANT = ["mg/L as Cl2", "mg/L as O3", "mg/L as Br2", "ug/L as Cl2"];
/**
 * Units that kits and instruments show, beside the registry's own. Each converts exactly; ppm is absent on purpose (mg/L or mg/kg, which
 * differ in sea water). Source: common practice, no source.
 */
const OTHER_UNITS: Partial<Record<NumberQuantityId, readonly string[]>> = {
  temperature: ["°F"],
  conductivity: ["uS/cm"],
  specific_conductance: ["mS/cm"],
  density: ["g/mL"],
  dissolved_oxygen: ["mL/L"],
  gas_excess: ["hPa"],
  barometric_pressure: ["mmHg", "kPa"],
  total_ammonia: ["mg/L as NH3", "mg/L as NH4", ...NITROGEN],
  nitrite: ["mg/L as NO2", ...NITROGEN],
  nitrate: ["mg/L as NO3", ...NITROGEN],
  phosphate: ["mg/L as PO4", "ug/L as P", "umol/L"],
  silicate: ["mg/L as Si"],
  alkalinity: ["dKH", "mg/L as CaCO3"],
  hardness: ["dGH", "mmol/L"],
  calcium: AMOUNT,
  magnesium: AMOUNT,
  potassium: AMOUNT,
  strontium: ["umol/L"],
  iodide: ["mg/L", "umol/L"],
  copper: ["ug/L"],
  chlorine: OXIDANT,
  total_chlorine: OXIDANT,
  total_residual_oxidant: OXIDANT,
  flow: ["L/min", "L/s", "gpm"],
  level: ["cm", "m", "in"],
  filter_pressure_difference: ["bar", "psi"],
  make_up_volume: ["m3"],
};

const SUBSCRIPTS: Readonly<Record<string, string>> = { 2: "₂", 3: "₃", 4: "₄" };
/** "mg/L as NO3" as it is printed on a kit: "mg/L as NO₃". */
const printed = (typed: string) =>
  typed
    .replace(/(?<=as \w*)[234]/g, (digit) => SUBSCRIPTS[digit] ?? digit)
    .replace(/^u(?=[gmS])/, "µ")
    .replace("m3", "m³");

function choice(id: string, typed: string, label: string): UnitChoice | undefined {
  const unit = canonicalUnit(id, typed);
  return unit && { typed, label, factor: unit.factor, offset: unit.offset };
}

/** The field of a quantity of the registry; undefined for a state, an unknown id, or what is only computed (un-ionised ammonia, saturation states). */
export function benchField(id: string): BenchField | undefined {
  const spec = quantity(id);
  if (spec?.kind !== "number" || ONLY_COMPUTED.has(spec.id)) return undefined;
  const { label, unit, unitLabel, decimals, sensor, plausible } = spec;
  const own = choice(id, unit, unitLabel);
  const others = (OTHER_UNITS[spec.id as NumberQuantityId] ?? [])
    .filter((typed) => canonicalUnit(id, typed)?.from !== unit)
    .map((typed) => choice(id, typed, printed(typed)));
  const units = [own, ...others].filter((one) => one !== undefined);
  return { quantity: id, label, unit, unitLabel, decimals, sensor, plausible, units };
}

const ONLY_COMPUTED: ReadonlySet<string> = new Set([
  "unionised_ammonia",
  "aragonite_saturation",
  "calcite_saturation",
  "redox_eh",
  "day_length",
]);

/**
 * The order of a walk: what is read at the water's edge with an instrument in the hand, then what is titrated or coloured at the bench,
 * then what a laboratory sends back, then gauges. Source: common practice, no source.
 */
const WALK: readonly NumberQuantityId[] = [
  "animal_count",
  "respiration_rate",
  "temperature",
  "salinity",
  "specific_gravity",
  "density",
  "conductivity",
  "specific_conductance",
  "ph",
  "dissolved_oxygen",
  "oxygen_saturation",
  "total_gas_pressure",
  "gas_excess",
  "barometric_pressure",
  "orp",
  "turbidity",
  "total_ammonia",
  "nitrite",
  "nitrate",
  "phosphate",
  "alkalinity",
  "calcium",
  "magnesium",
  "hardness",
  "total_residual_oxidant",
  "chlorine",
  "total_chlorine",
  "ozone",
  "copper",
  "carbon_dioxide",
];
const WALK_PLACE = new Map(WALK.map((id, i) => [id as string, i]));

/** Where a quantity comes on the walk; what is not on it follows in the registry's order. */
export function walkPlace(id: string): number {
  return WALK_PLACE.get(id) ?? WALK.length + QUANTITY_IDS.indexOf(id as NumberQuantityId);
}

/** Every quantity that can be typed, by its name: what may be added to a form. */
export const BENCH_QUANTITIES: readonly { readonly quantity: string; readonly label: string }[] =
  QUANTITY_IDS.filter((id) => benchField(id) !== undefined).map((id) => ({
    quantity: id,
    label: QUANTITIES[id].label,
  }));
