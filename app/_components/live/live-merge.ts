import type { LiveEvent, Standing, SystemState, SystemsView } from "#contract/views.ts";
import { worstFirst } from "#core/alarms/standing.ts";
import { withUnit } from "#core/units/number-text.ts";
import { STANDING_WORD, seenAs } from "../words/standing-words.ts";

/** What the page knows, and the journal position it is true for. */
export interface LiveState {
  readonly view: SystemsView;
  readonly rejected: number | null;
}

/** Only what concerns one system, for its own page; everything where none is named. */
export function onlyOf<T extends { readonly systems: SystemState[] }>(heard: T, code: string | undefined): T {
  return code === undefined ? heard : { ...heard, systems: heard.systems.filter((s) => s.system === code) };
}

/** The oldest newest reading of the streams that a system cannot be judged without. */
export function oldestOf(systems: readonly SystemState[]): SystemsView["oldest"] {
  let oldest: SystemsView["oldest"] = null;
  for (const system of systems) {
    for (const stream of system.streams) {
      if (!stream.critical || stream.at === null) continue;
      if (oldest === null || stream.at < oldest.at) {
        oldest = { system: system.system, quantity: stream.quantity, at: stream.at };
      }
    }
  }
  return oldest;
}

/** Systems of the event replace ours whole; an event older than what we hold changes nothing. Order is kept. */
export function mergeEvent(state: LiveState, event: LiveEvent): LiveState {
  if (event.seq < state.view.seq) return state;
  const changed = new Map(event.systems.map((s) => [s.system, s]));
  const systems = state.view.systems.map((s) => changed.get(s.system) ?? s);
  const known = new Set(systems.map((s) => s.system));
  for (const system of event.systems) if (!known.has(system.system)) systems.push(system);
  return {
    view: { ...state.view, now: event.now, seq: event.seq, systems, oldest: oldestOf(systems) },
    rejected: event.counts.rejected,
  };
}

/** The whole state read again; systems that did not change keep their identity, so that only changed rows are drawn again. */
export function mergeWhole(state: LiveState, view: SystemsView): LiveState {
  if (view.seq < state.view.seq) return state;
  const before = new Map(state.view.systems.map((s) => [s.system, s]));
  const systems = view.systems.map((s) => {
    const had = before.get(s.system);
    return had !== undefined && JSON.stringify(had) === JSON.stringify(s) ? had : s;
  });
  return { view: { ...view, systems, oldest: oldestOf(systems) }, rejected: state.rejected };
}

/** The order shown: new systems join at their place, the others move only when asked to. */
export function keepOrder(
  order: readonly string[],
  systems: readonly SystemState[],
  resort: boolean,
): string[] {
  if (resort) return [...systems].sort(worstFirst).map((s) => s.system);
  const present = new Set(systems.map((s) => s.system));
  const kept = order.filter((code) => present.has(code));
  const known = new Set(kept);
  return [...kept, ...systems.filter((s) => !known.has(s.system)).map((s) => s.system)];
}

/** True where a system needs action now that did not before: that moves the order at once. */
export function hasNewAction(
  before: ReadonlyMap<string, Standing>,
  systems: readonly SystemState[],
): boolean {
  return systems.some((s) => s.standing === "action" && before.get(s.system) !== "action");
}

/** What to say aloud about systems whose standing changed; empty when nothing did. */
export function announcement(before: ReadonlyMap<string, Standing>, systems: readonly SystemState[]): string {
  const moved = systems
    .filter((s) => before.has(s.system) && before.get(s.system) !== s.standing)
    .sort(worstFirst);
  const said = moved.slice(0, 3).map((system) => {
    const worst = system.streams.find((s) => seenAs(s) === system.standing && system.standing !== "calm");
    const value =
      worst === undefined || worst.value === null || seenAs(worst) === "unknown"
        ? (worst?.label ?? "")
        : `${worst.label} ${withUnit(worst.value, worst.decimals, worst.unitLabel)}`;
    return `${system.name}: ${STANDING_WORD[system.standing]}${value === "" ? "" : `, ${value}`}.`;
  });
  if (moved.length > 3) said.push(`${moved.length - 3} more systems changed.`);
  return said.join(" ");
}
