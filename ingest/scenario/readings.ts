/** The readings of a scenario in time order. */
import { DAY, HOUR, type Instant, MINUTE } from "#core/time/index.ts";
import type { Scenario } from "./load.ts";
import { type Compiled, compiledFor } from "./sampler.ts";

/** `as-sampled`: each stream at its own interval, states at every change too. The others thin every stream to that grid. */
export type Cadence = "as-sampled" | "five-minute" | "hourly";

export interface ScenarioReading {
  /** Index in streams.json. */
  readonly stream: number;
  readonly at: Instant;
  /** In the registry's unit; of a state, the number of its word. */
  readonly value: number;
  /** When it arrives: `at`, but for a block that came late. */
  readonly deliveredAt: Instant;
}

/** Readings with `at` in [from, to), rising; silent probes leave gaps. Any split of a span gives the same readings. */
export function* readingsBetween(
  scenario: Scenario,
  anchor: Instant,
  from: Instant,
  to: Instant,
  cadence: Cadence,
): Generator<ScenarioReading> {
  const compiled = compiledFor(scenario, anchor);
  const groups = groupsOf(scenario, cadence);
  const tick = Math.min(...groups.map((group) => group.every));
  let changes: Change[] = [];
  let changesUntil = from;
  for (let at = Math.floor(from / tick) * tick; at < to; at += tick) {
    const end = Math.min(at + tick, to);
    if (cadence === "as-sampled" && end > changesUntil) {
      // A day of changes at a time: a long span must not hold them all.
      const until = Math.min(changesUntil + DAY, to);
      changes = [
        ...changes.filter((change) => change.at >= at),
        ...changesBetween(compiled, changesUntil, until),
      ];
      changesUntil = until;
    }
    if (at >= from)
      for (const group of groups) {
        if (at % group.every !== 0) continue;
        for (const stream of group.streams) {
          const value = compiled.samples[stream]?.(at) ?? null;
          if (value !== null) yield { stream, at, value, deliveredAt: compiled.deliveredAt(stream, at) };
        }
      }
    if (cadence !== "as-sampled") continue;
    while (changes[0] && changes[0].at < end) {
      const { stream, at: when } = changes.shift() as Change;
      if (when < at || when % intervalMs(scenario, stream) === 0) continue;
      const value = compiled.samples[stream]?.(when) ?? null;
      if (value !== null) yield { stream, at: when, value, deliveredAt: compiled.deliveredAt(stream, when) };
    }
  }
}

interface Change {
  readonly stream: number;
  readonly at: Instant;
}

const intervalMs = (scenario: Scenario, stream: number) => (scenario.streams[stream]?.intervalS ?? 0) * 1000;

function groupsOf(scenario: Scenario, cadence: Cadence): { every: number; streams: number[] }[] {
  const groups = new Map<number, number[]>();
  scenario.streams.forEach((stream, index) => {
    const own = stream.intervalS * 1000;
    const every = cadence === "as-sampled" ? own : Math.max(own, cadence === "hourly" ? HOUR : 5 * MINUTE);
    const group = groups.get(every) ?? [];
    group.push(index);
    groups.set(every, group);
  });
  return [...groups].map(([every, streams]) => ({ every, streams }));
}

/** State changes in [from, to), rising; at the same instant in the order of streams. */
function changesBetween(compiled: Compiled, from: Instant, to: Instant): Change[] {
  const changes: Change[] = [];
  for (const [stream, state] of compiled.states)
    for (const at of state.changesWithin(from, to)) changes.push({ stream, at });
  return changes.sort((a, b) => a.at - b.at || a.stream - b.stream);
}
