import { canonicalUnit } from "../units/canonical-unit.ts";
import { displayUnits } from "../units/display.ts";
import { type NumberQuantityId, QUANTITIES, QUANTITY_IDS, quantity } from "../units/quantity.ts";
import type { MeasuredAs, TypedUnit } from "./typed-number.ts";

/** A unit that a result may be typed in. `typed` is sent as the unit; `label` is what people read. */
export interface UnitChoice extends TypedUnit {
  readonly typed: string;
  readonly label: string;
  readonly decimals: number;
}
/** One field of the bench form: what the registry says of its quantity, as plain data. */
export interface BenchField extends MeasuredAs {
  readonly quantity: string;
  /** The registry's unit first. */
  readonly units: readonly UnitChoice[];
}

/** The field of a quantity of the registry; undefined for a state, an unknown id, or what is only computed (un-ionised ammonia, saturation states). */
export function benchField(id: string): BenchField | undefined {
  const spec = quantity(id);
  if (spec?.kind !== "number" || spec.isComputed) return undefined;
  const { label, unit, unitLabel, decimals, sensor, plausible } = spec;
  const units = displayUnits(spec.id as NumberQuantityId).flatMap((one): UnitChoice[] => {
    const exact = canonicalUnit(id, one.unit);
    return exact
      ? [
          {
            typed: one.unit,
            label: one.label,
            decimals: one.decimals,
            factor: exact.factor,
            offset: exact.offset,
          },
        ]
      : [];
  });
  return { quantity: id, label, unit, unitLabel, decimals, sensor, plausible, units };
}

/**
 * The order of a walk: what is read at the water's edge with an instrument in the hand, then what is titrated or coloured at the bench,
 * then what a laboratory sends back, then gauges: everything that can be typed, once. Source: common practice, no source.
 */
export const WALK: readonly NumberQuantityId[] = [
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
  "silicate",
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
  "pco2",
  "strontium",
  "potassium",
  "iodide",
  "ozone_output",
  "sulphide",
  "uv_transmittance",
  "coliform",
  "heterotrophic_count",
  "osmolality",
  "flow",
  "level",
  "filter_pressure_difference",
  "pump_power",
  "illuminance",
  "par",
  "make_up_volume",
];
const WALK_PLACE = new Map(WALK.map((id, i) => [id as string, i]));

/** Where a quantity comes on the walk; what nobody types comes after it, in the registry's order. */
export function walkPlace(id: string): number {
  return WALK_PLACE.get(id) ?? WALK.length + QUANTITY_IDS.indexOf(id as NumberQuantityId);
}

/** Every quantity that can be typed, by its name: what may be added to a form. */
export const BENCH_QUANTITIES: readonly { readonly quantity: string; readonly label: string }[] =
  QUANTITY_IDS.filter((id) => benchField(id) !== undefined).map((id) => ({
    quantity: id,
    label: QUANTITIES[id].label,
  }));
