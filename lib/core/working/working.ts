/** Everything behind one derived number, from the very inputs it was computed from. */
import { carbonateFromPhAlkalinity, DEFAULT_ALPHA, ehFromOrp, osmolality } from "../chemistry/index.ts";
import {
  carbonateInputOf,
  carbonateUncertaintyAt,
  computeDerived,
  type DerivedInputs,
  gasExcessOf,
  gasPressureOf,
  phOf,
  pressureOf,
  SPECIFIC_GRAVITY_TEMPERATURE,
  tanUncertainty,
} from "../evaluate/compute.ts";
import type { DerivedFormula } from "../evaluate/derivations.ts";
import type { Instant } from "../time/instant.ts";
import { type NumberQuantityId, QUANTITIES } from "../units/quantity.ts";
import type { In, PracticalSalinity } from "../units/unit.ts";
import { explainAmmonia } from "./explain-ammonia.ts";
import { carbonateFacts, explainCarbonate } from "./explain-carbonate.ts";
import { explainGasPressure, explainOxygen } from "./explain-gas.ts";
import {
  explainConductance,
  explainDensity,
  explainGravity,
  explainOsmolality,
  explainRedox,
  explainSalinity,
} from "./explain-water.ts";
import type { Explanation } from "./explanation.ts";
import type { Working, WorkingInput } from "./view.ts";
import { workingText } from "./working-text.ts";

/** What is known of the moment: where and when, and the inputs as they were found. */
export interface WorkingOf {
  readonly system: string;
  readonly point: string;
  /** The trigger's own time; null where it has no believable reading. */
  readonly at: Instant | null;
  /** Null where the trigger has no believable reading. */
  readonly inputs: DerivedInputs | null;
  readonly formula: DerivedFormula;
  readonly shown: readonly WorkingInput[];
  readonly isStored: boolean;
  /** IANA zone of the site, for the plain text. */
  readonly zone: string;
}

const CARBONATE = {
  pco2: "pco2",
  aragonite_saturation: "aragoniteSaturation",
  calcite_saturation: "calciteSaturation",
} as const;

const value = (inputs: DerivedInputs, role: keyof DerivedInputs["given"]) =>
  inputs.given[role]?.value ?? Number.NaN;

function explain(inputs: DerivedInputs): Explanation {
  const { formula } = inputs;
  const [t, s] = [value(inputs, "temperature"), value(inputs, "salinity")];
  switch (formula) {
    case "salinity":
      return explainSalinity(inputs.value, t, 0);
    case "specific_conductance":
      return explainConductance(DEFAULT_ALPHA, t);
    case "oxygen_saturation": {
      const pressure = pressureOf(inputs);
      return explainOxygen(inputs.value, t, s, pressure.value, pressure.u, inputs.water === "fresh");
    }
    case "unionised_ammonia":
      return explainAmmonia({
        ph: phOf(inputs),
        phScale: inputs.basis.phScale,
        t,
        s,
        water: inputs.water,
        tan: value(inputs, "ammonia"),
        tanRelative: tanUncertainty(inputs.given.ammonia?.age ?? 0),
      });
    case "redox_eh":
      return explainRedox(
        ehFromOrp(inputs.value as In<"mV">, inputs.basis.electrode, t as In<"Cel">).reference ?? Number.NaN,
        inputs.basis.electrode,
      );
    case "osmolality": {
      const found = osmolality(inputs.value as PracticalSalinity, t as In<"Cel">);
      return explainOsmolality(inputs.value, found.osmoticCoefficient ?? Number.NaN);
    }
    case "density":
      return explainDensity(t);
    case "specific_gravity":
      return explainGravity(inputs.value, SPECIFIC_GRAVITY_TEMPERATURE, SPECIFIC_GRAVITY_TEMPERATURE);
    case "total_gas_pressure":
      return explainGasPressure(gasExcessOf(inputs), pressureOf(inputs).value, t, s, gasPressureOf(inputs));
    default:
      return explainCarbonateOf(inputs, CARBONATE[formula]);
  }
}

function explainCarbonateOf(
  inputs: DerivedInputs,
  part: (typeof CARBONATE)[keyof typeof CARBONATE],
): Explanation {
  const input = carbonateInputOf(inputs);
  const system = carbonateFromPhAlkalinity(input).value;
  const set = inputs.water === "fresh" ? "fresh" : inputs.water === "brackish" ? "waters" : "lueker";
  if (system === null) return { ...carbonateFacts(set, part), steps: [], uncertainty: [] };
  const { alkalinity, calcium } = inputs.given;
  const u = carbonateUncertaintyAt(alkalinity?.age ?? 0, calcium?.mark === null ? calcium.age : null);
  return explainCarbonate(input, system, part, u);
}

const NOTHING: Explanation = { expression: [], range: "", source: "", steps: [], uncertainty: [] };

/**
 * The working of one derived number: its equation, inputs, intermediate values, result with interval, and sources. The result is computed
 * by the evaluator's own function from the same inputs. Where there is none, `note` says why. Pure; never throws.
 */
export function workingOf(asked: WorkingOf): Working {
  const { formula, inputs, at } = asked;
  const spec = QUANTITIES[formula as NumberQuantityId];
  const found =
    inputs === null ? { value: null, note: "no good reading to compute it from" } : computeDerived(inputs);
  // Steps are shown only for a number that stands: with an input missing there is nothing to follow.
  const explained = inputs !== null && found.value !== null ? explain(inputs) : NOTHING;
  const known = found.value === null ? null : found;
  const view = {
    system: asked.system,
    point: asked.point,
    quantity: formula,
    label: spec.label,
    unit: spec.unit,
    unitLabel: spec.unitLabel,
    decimals: spec.decimals,
    at,
    value: found.value,
    low: known?.low ?? null,
    high: known?.high ?? null,
    mark: known?.mark ?? null,
    status: known === null ? ("not known" as const) : known.extrapolated ? "extrapolated" : "ok",
    note: found.note,
    isStored: asked.isStored,
    equation: known?.formula ?? "",
    expression: [...explained.expression],
    range: explained.range,
    source: explained.source,
    inputs: [...asked.shown],
    steps: explained.steps.filter((each) => Number.isFinite(each.value)),
    uncertainty: [...explained.uncertainty],
  } satisfies Omit<Working, "text">;
  return { ...view, text: workingText(view, asked.zone) };
}
