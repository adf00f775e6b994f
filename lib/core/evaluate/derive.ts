/** Computes what the animals really feel from the newest good inputs: salinity, specific conductance, oxygen percent, un-ionised ammonia. */
import {
  oxygenPercent,
  practicalSalinity,
  specificConductance25,
  stationPressure,
  unionisedAmmonia,
} from "../chemistry/index.ts";
import type { Instant } from "../time/instant.ts";
import { HOUR } from "../time/instant.ts";
import type { In, PracticalSalinity } from "../units/unit.ts";
import type { Derivation, InputChoice } from "./derivations.ts";
import type { SystemSettings } from "./settings.ts";
import type { WaterState } from "./water-state.ts";

export interface Derived {
  readonly value: number;
  readonly low: number | null;
  readonly high: number | null;
  readonly formula: string;
  readonly extrapolated: boolean;
  /** "below" where the ammonia it rests on was below the kit's detection limit. */
  readonly mark: "below" | null;
}
interface Chosen {
  readonly value: number;
  readonly age: number;
  readonly mark: "below" | "above" | null;
}

/** The first choice whose newest good reading is young enough; null where none is: the result is not known. */
export function choose(water: WaterState, choices: readonly InputChoice[], at: Instant): Chosen | null {
  for (const { stream, maxAge } of choices) {
    const state = water.streams.get(stream);
    if (!state || state.goodAt < 0 || at - state.goodAt > maxAge) continue;
    return { value: state.goodValue, age: at - state.goodAt, mark: state.goodMark };
  }
  return null;
}

/** Standard pressure at sea level, hPa (by definition), where a system has no barometer. */
const STANDARD_HPA = 1013.25;

function pressureAt(
  settings: SystemSettings,
  water: WaterState,
  derivation: Derivation,
  at: Instant,
): [number, string] {
  const barometer = choose(water, derivation.pressure, at);
  if (barometer) return [barometer.value, "barometer"];
  const standard = stationPressure(STANDARD_HPA as In<"hPa">, settings.elevation as In<"m">);
  return [standard.value ?? STANDARD_HPA, `standard air at ${settings.elevation} m`];
}

/** Relative standard uncertainty of a fresh total ammonia result and how it grows while the result is carried. Our own, no source. */
const TAN_FRESH = 0.1;
const TAN_PER_DAY = 0.15;

const tanUncertainty = (age: number) => Math.hypot(TAN_FRESH, (TAN_PER_DAY * age) / (24 * HOUR));

/**
 * One derived value at an input's own time, or null where an input is missing, too old or leaves no defensible number.
 * `value` is the trigger's good reading in the registry's unit.
 */
export function derive(
  settings: SystemSettings,
  water: WaterState,
  derivation: Derivation,
  value: number,
  at: Instant,
): Derived | null {
  const t = choose(water, derivation.temperature, at);
  if (!t) return null;
  const celsius = t.value as In<"Cel">;
  if (derivation.formula === "salinity") return plain(practicalSalinity(value as In<"mS/cm">, celsius));
  if (derivation.formula === "specific_conductance")
    return plain(specificConductance25(value as In<"mS/cm">, celsius));
  const fresh = settings.system.water === "fresh";
  const s = fresh ? 0 : choose(water, derivation.salinity, at)?.value;
  if (s === undefined) return null;
  if (derivation.formula === "oxygen_saturation") {
    const [pressure, how] = pressureAt(settings, water, derivation, at);
    const percent = oxygenPercent(
      value as In<"mg/L">,
      celsius,
      s as PracticalSalinity,
      pressure as In<"hPa">,
    );
    return plain({ ...percent, formula: `${percent.formula}; ${how}` });
  }
  const tan = choose(water, derivation.ammonia, at);
  if (!tan) return null;
  const ammonia = unionisedAmmonia({
    tan: tan.value as In<"mg{N}/L">,
    ph: value as In<"[pH]">,
    t: celsius,
    s: s as PracticalSalinity,
    water: settings.system.water,
    u: { tanRelative: tanUncertainty(tan.age) },
  });
  if (ammonia.value === null) return null;
  const below = tan.mark === "below";
  return {
    value: ammonia.value,
    low: below ? 0 : ammonia.low,
    high: ammonia.high,
    formula: ammonia.formula,
    extrapolated: ammonia.status === "extrapolated",
    mark: below ? "below" : null,
  };
}

function plain(result: { value: number | null; status: string; formula: string }): Derived | null {
  if (result.value === null) return null;
  const { value, formula } = result;
  return {
    value,
    low: null,
    high: null,
    formula,
    extrapolated: result.status === "extrapolated",
    mark: null,
  };
}
