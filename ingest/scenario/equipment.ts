/** State streams: pumps, floats, valves, thermostats. Words become the registry's numbers. */
import { type Instant, MINUTE } from "#core/time/index.ts";
import { quantity, stateIndex } from "#core/units/index.ts";
import type { ScenarioClock } from "./clock.ts";
import { type Place, placeKey, type Scenario } from "./load.ts";
import { seedOf } from "./noise.ts";

export interface StateCourse {
  /** Number of the state word in force. */
  readonly stateAt: (at: Instant) => number;
  /** Instants in [from, to) at which the state becomes another one, rising. */
  readonly changesWithin: (from: Instant, to: Instant) => Instant[];
}

/** The number a word is stored under. Throws RangeError for a word the quantity does not know. */
function wordNumber(id: string, word: string): number {
  const known = quantity(id);
  const index = known?.kind === "state" ? stateIndex(known, word) : undefined;
  if (index === undefined) throw new RangeError(`"${word}" is no state of ${id}`);
  return index;
}

/** The course of a state stream. Throws RangeError when water.json says nothing about it. */
export function stateCourse(place: Place, scenario: Scenario, clock: ScenarioClock): StateCourse {
  const key = placeKey(place);
  const spec = scenario.water.states.find((s) => placeKey(s) === key);
  if (!spec) throw new RangeError(`${key} has no entry under states of water.json`);
  const usual = wordNumber(spec.quantity, spec.usual);
  const cycle = spec.cycle && {
    word: wordNumber(spec.quantity, spec.cycle.word),
    every: spec.cycle.everyMin * MINUTE,
    lasts: spec.cycle.forMin * MINUTE,
    start: clock.anchor + ((seedOf(key) >>> 0) % spec.cycle.everyMin) * MINUTE,
  };
  const acts = scenario.course.states
    .filter((s) => placeKey(s) === key)
    .flatMap((s) => s.changes.map(([moment, word]) => ({ at: clock.instantOf(moment), word })))
    .map(({ at, word }) => ({ at, state: word === null ? null : wordNumber(spec.quantity, word) }))
    .sort((a, b) => a.at - b.at);

  const ordinary = (at: Instant): number => {
    if (!cycle) return usual;
    const phase = (((at - cycle.start) % cycle.every) + cycle.every) % cycle.every;
    return phase < cycle.lasts ? cycle.word : usual;
  };
  const stateAt = (at: Instant): number => {
    let held: number | null = null;
    for (const act of acts) if (act.at <= at) held = act.state;
    return held ?? ordinary(at);
  };
  const changesWithin = (from: Instant, to: Instant): Instant[] => {
    const candidates = new Set(acts.map((act) => act.at).filter((at) => at >= from && at < to));
    if (cycle)
      for (const edge of [cycle.start, cycle.start + cycle.lasts]) {
        let at = edge + Math.ceil((from - edge) / cycle.every) * cycle.every;
        for (; at < to; at += cycle.every) candidates.add(at);
      }
    return [...candidates].filter((at) => stateAt(at) !== stateAt(at - 1)).sort((a, b) => a - b);
  };
  return { stateAt, changesWithin };
}
