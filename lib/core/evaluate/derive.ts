/** Chooses the newest good inputs for what a reading lets us compute, and computes it: what the animals really feel. */
import { basisAt } from "../set-up/probe-basis.ts";
import type { Instant } from "../time/instant.ts";
import { type ChosenInput, computeDerived, type Derived } from "./compute.ts";
import type { Derivation, InputChoice, InputRole } from "./derivations.ts";
import type { SystemSettings } from "./settings.ts";
import type { WaterState } from "./water-state.ts";

/** The first choice whose newest good reading is young enough; undefined where none is: the result is not known. */
function chooseInput(
  water: WaterState,
  choices: readonly InputChoice[],
  at: Instant,
): ChosenInput | undefined {
  for (const { stream, maxAge } of choices) {
    const state = water.streams.get(stream);
    if (!state || state.goodAt < 0 || at - state.goodAt > maxAge) continue;
    return { value: state.goodValue, age: at - state.goodAt, mark: state.goodMark };
  }
  return undefined;
}

/** Fresh water has no sea salt, whatever a probe in it says; a fact of the system, not of the moment. */
export const FRESH_WATER_SALINITY: ChosenInput = { value: 0, age: 0, mark: null };

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
  const isFresh = settings.system.water === "fresh";
  const given: Partial<Record<InputRole, ChosenInput>> = {};
  for (const role in derivation.choices) {
    const choices = derivation.choices[role as InputRole] as readonly InputChoice[];
    const chosen = role === "salinity" && isFresh ? FRESH_WATER_SALINITY : chooseInput(water, choices, at);
    if (chosen) given[role as InputRole] = chosen;
  }
  const found = computeDerived({
    formula: derivation.formula,
    value,
    quantity: derivation.quantity,
    basis: basisAt(derivation.basis, at),
    water: settings.system.water,
    elevation: settings.elevation,
    given,
  });
  return found.value === null ? null : found;
}
