/**
 * The one place where a derived value is computed from inputs that were chosen: the evaluator, what is computed when read, and the showing
 * of the working all call it, so that they cannot differ.
 */
import {
  type CarbonatePart,
  carbonateFromPhAlkalinity,
  carbonateUncertainty,
  ehFromOrp,
  FIELD_CARBONATE,
  FIELD_OXYGEN,
  type GasPressure,
  osmolality,
  oxygenPercent,
  oxygenPercentUncertainty,
  practicalSalinity,
  salinityUncertainty,
  seawaterDensity,
  specificConductance25,
  specificGravity,
  stationPressure,
  totalGasPressure,
  unionisedAmmonia,
  type Water,
} from "../chemistry/index.ts";
import type { ProbeBasis } from "../set-up/probe-basis.ts";
import { DAY } from "../time/instant.ts";
import type { In, PracticalSalinity } from "../units/unit.ts";
import { type DerivedFormula, type InputRole, REQUIRED_INPUTS } from "./derivations.ts";

/** One input as it was chosen: the newest good reading and how old it is. */
export interface ChosenInput {
  readonly value: number;
  /** Milliseconds between its own time and the moment computed for. */
  readonly age: number;
  readonly mark: "below" | "above" | null;
}
export interface DerivedInputs {
  readonly formula: DerivedFormula;
  /** The reading that sets the computation off, in the registry's unit. */
  readonly value: number;
  readonly quantity: string;
  /** What the probe's numbers stood on then. */
  readonly basis: ProbeBasis;
  readonly water: Water;
  /** Metres above sea level, for pressure where there is no barometer. */
  readonly elevation: number;
  readonly given: Readonly<Partial<Record<InputRole, ChosenInput>>>;
}
export interface Derived {
  readonly value: number;
  /** Interval of about 95 %; null where none is known. */
  readonly low: number | null;
  readonly high: number | null;
  readonly formula: string;
  readonly extrapolated: boolean;
  readonly note: string | null;
  /** Where what it rests on was below or above what its method can tell. */
  readonly mark: "below" | "above" | null;
}
export type ComputationResult = Derived | { readonly value: null; readonly note: string };

/** Standard pressure at sea level, hPa (by definition), where a system has no barometer. */
const STANDARD_HPA = 1013.25;
/** How far weather moves pressure about the standard one, hPa. Common practice, no source. */
const WEATHER_HPA = 10;
/** Both temperatures of the specific gravity shown, °C: with one pair for all, a chart shows salt and not warmth. */
export const SPECIFIC_GRAVITY_TEMPERATURE = 25;
const MMHG_PER_HPA = 760 / 1013.25;

/** Relative standard uncertainties of fresh results, and how they grow a day while a result is carried. Our own, no source. */
const TAN_FRESH = 0.1;
const TAN_PER_DAY = 0.15;
const ALKALINITY_PER_DAY = 0.02;
const CALCIUM_FRESH = 0.03;
const CALCIUM_PER_DAY = 0.005;

const grownUncertainty = (fresh: number, perDay: number, age: number) =>
  Math.hypot(fresh, (perDay * age) / DAY);

export const tanUncertainty = (age: number) => grownUncertainty(TAN_FRESH, TAN_PER_DAY, age);
/** Of the carbonate system's inputs, as old as they are. Without a calcium result the calcium of sea salt is taken. */
export const carbonateUncertaintyAt = (alkalinityAge: number, calciumAge: number | null) => ({
  ...FIELD_CARBONATE,
  alkalinityRelative: grownUncertainty(FIELD_CARBONATE.alkalinityRelative, ALKALINITY_PER_DAY, alkalinityAge),
  calciumRelative:
    calciumAge === null
      ? FIELD_CARBONATE.calciumRelative
      : grownUncertainty(CALCIUM_FRESH, CALCIUM_PER_DAY, calciumAge),
});

/** Station pressure, hPa, its standard uncertainty, and in words where it is from. */
export function pressureOf({ given, elevation }: DerivedInputs): {
  readonly value: number;
  readonly u: number;
  readonly from: string;
} {
  if (given.pressure) return { value: given.pressure.value, u: FIELD_OXYGEN.pressure, from: "barometer" };
  const standard = stationPressure(STANDARD_HPA as In<"hPa">, elevation as In<"m">);
  return {
    value: standard.value ?? STANDARD_HPA,
    u: WEATHER_HPA,
    from: `standard pressure at ${elevation} m`,
  };
}

/** Gas pressure above the barometer, mmHg, of a tensiometer that says it itself or as percent of the barometer. */
export function gasExcessOf(inputs: DerivedInputs): number {
  if (inputs.quantity !== "total_gas_pressure") return inputs.value;
  return pressureOf(inputs).value * MMHG_PER_HPA * (inputs.value / 100 - 1);
}

/** A gas tensiometer's reading split into gases, with what is known of oxygen. */
export function gasPressureOf(inputs: DerivedInputs): GasPressure {
  const { temperature, salinity, oxygen } = inputs.given;
  return totalGasPressure({
    bp: pressureOf(inputs).value as In<"hPa">,
    dp: gasExcessOf(inputs) as In<"mm[Hg]">,
    ...(oxygen ? { do: oxygen.value as In<"mg/L"> } : {}),
    t: (temperature as ChosenInput).value as In<"Cel">,
    s: (salinity as ChosenInput).value as PracticalSalinity,
  });
}

/** The pH on its probe's scale: as read, with the probe's own offset. */
export const phOf = ({ value, basis }: DerivedInputs) => (value + basis.phOffset) as In<"[pH]">;

/** What the carbonate system is computed from. */
export function carbonateInputOf(inputs: DerivedInputs) {
  const { temperature, salinity, alkalinity, calcium } = inputs.given;
  return {
    ph: phOf(inputs),
    phScale: inputs.basis.phScale,
    alkalinity: (alkalinity as ChosenInput).value as In<"meq/L">,
    t: (temperature as ChosenInput).value as In<"Cel">,
    s: (salinity as ChosenInput).value as PracticalSalinity,
    water: inputs.water,
    // A censored calcium result cannot be divided by.
    ...(calcium && calcium.mark === null ? { calcium: calcium.value as In<"mg/L"> } : {}),
  };
}

const CARBONATE_PARTS: Partial<Record<DerivedFormula, CarbonatePart>> = {
  pco2: "pco2",
  aragonite_saturation: "aragoniteSaturation",
  calcite_saturation: "calciteSaturation",
};

interface Plain {
  readonly value: number | null;
  readonly status: string;
  readonly formula: string;
  readonly note: string | null;
}

/** Twice the standard uncertainty either way; `least` is what the value cannot fall below. */
function about(result: Plain, u: number | null, least = Number.NEGATIVE_INFINITY): ComputationResult {
  const { value, formula, note } = result;
  if (value === null) return { value: null, note: note ?? "the inputs give no result" };
  return {
    value,
    low: u === null ? null : Math.max(least, value - 2 * u),
    high: u === null ? null : value + 2 * u,
    formula,
    extrapolated: result.status === "extrapolated",
    note,
    mark: null,
  };
}

function ammonia(inputs: DerivedInputs): ComputationResult {
  const { temperature, salinity, ammonia: tan } = inputs.given as Required<DerivedInputs["given"]>;
  const result = unionisedAmmonia({
    tan: tan.value as In<"mg{N}/L">,
    ph: phOf(inputs),
    phScale: inputs.basis.phScale,
    t: temperature.value as In<"Cel">,
    s: salinity.value as PracticalSalinity,
    water: inputs.water,
    u: { tanRelative: tanUncertainty(tan.age) },
  });
  const plain = about(result, null);
  if (plain.value === null) return plain;
  return {
    ...plain,
    low: tan.mark === "below" ? 0 : result.low,
    high: tan.mark === "above" ? null : result.high,
    mark: tan.mark,
  };
}

function carbonate(inputs: DerivedInputs, part: CarbonatePart): ComputationResult {
  const { alkalinity, calcium } = inputs.given;
  if (!alkalinity || alkalinity.mark !== null)
    return { value: null, note: "the alkalinity result is only a limit (< or >)" };
  const input = carbonateInputOf(inputs);
  const system = carbonateFromPhAlkalinity(input);
  const value = system.value?.[part] ?? null;
  if (value === null)
    return { value: null, note: system.note ?? "saturation states are defined for sea water only" };
  const measured = calcium && calcium.mark === null ? calcium.age : null;
  const u = carbonateUncertainty(input, part, carbonateUncertaintyAt(alkalinity.age, measured));
  // Where pH and alkalinity nearly contradict each other the first order means nothing: no interval rather than an endless one.
  const spread = u === null || u > 2 ? null : Math.exp(2 * u);
  return {
    value,
    low: spread === null ? null : value / spread,
    high: spread === null ? null : value * spread,
    formula: system.formula,
    extrapolated: system.status === "extrapolated",
    note: system.note,
    mark: null,
  };
}

function oxygen(inputs: DerivedInputs): ComputationResult {
  const { temperature, salinity } = inputs.given as Required<DerivedInputs["given"]>;
  const pressure = pressureOf(inputs);
  const [t, s] = [temperature.value, salinity.value];
  const percent = oxygenPercent(
    inputs.value as In<"mg/L">,
    t as In<"Cel">,
    s as PracticalSalinity,
    pressure.value as In<"hPa">,
  );
  const u =
    percent.value === null
      ? null
      : oxygenPercentUncertainty(inputs.value, t, s, pressure.value, {
          ...FIELD_OXYGEN,
          s: inputs.water === "fresh" ? 0 : FIELD_OXYGEN.s,
          pressure: pressure.u,
        });
  return about({ ...percent, formula: `${percent.formula}; ${pressure.from}` }, u, 0);
}

function compute(inputs: DerivedInputs): ComputationResult {
  const { formula, value, basis } = inputs;
  const t = (inputs.given.temperature?.value ?? Number.NaN) as In<"Cel">;
  switch (formula) {
    case "salinity":
      return about(practicalSalinity(value as In<"mS/cm">, t), salinityUncertainty(value, t, 0), 0);
    case "specific_conductance":
      return about(specificConductance25(value as In<"mS/cm">, t), null);
    case "oxygen_saturation":
      return oxygen(inputs);
    case "unionised_ammonia":
      return ammonia(inputs);
    case "redox_eh":
      return about(ehFromOrp(value as In<"mV">, basis.electrode, t), null);
    case "osmolality":
      return about(osmolality(value as PracticalSalinity, t), null);
    case "density":
      return about(seawaterDensity(value as PracticalSalinity, t), null);
    case "specific_gravity": {
      const at = SPECIFIC_GRAVITY_TEMPERATURE as In<"Cel">;
      const result = specificGravity(value as PracticalSalinity, at, at);
      return about(
        {
          ...result,
          formula: `${result.formula}; ${SPECIFIC_GRAVITY_TEMPERATURE}/${SPECIFIC_GRAVITY_TEMPERATURE} °C`,
        },
        null,
      );
    }
    case "total_gas_pressure":
      return about(gasPressureOf(inputs), null);
    default:
      return carbonate(inputs, CARBONATE_PARTS[formula] as CarbonatePart);
  }
}

/** The inputs that are needed and not there. */
export const missingOf = ({ formula, given }: Pick<DerivedInputs, "formula" | "given">): InputRole[] =>
  REQUIRED_INPUTS[formula].needs.filter((role) => given[role] === undefined);

/** One derived value, or why there is none. Deterministic in its inputs. */
export function computeDerived(inputs: DerivedInputs): ComputationResult {
  const missing = missingOf(inputs);
  if (missing.length > 0) return { value: null, note: `missing or too old: ${missing.join(", ")}` };
  return compute(inputs);
}
