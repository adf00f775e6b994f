/** What people wrote during the scenario: bench tests and log entries, with their times as instants. */
import { DAY, type Instant, MINUTE } from "#core/time/index.ts";
import { openClock, type ScenarioClock } from "./clock.ts";
import type { Scenario } from "./load.ts";

type BenchFile = Scenario["bench"][number];
type ResultFile = BenchFile["results"][number];

export interface ScenarioResult extends Omit<ResultFile, "correction"> {
  readonly correction?: {
    readonly at: Instant;
    readonly value: string;
    readonly unit: string;
    readonly reason: string;
  };
}
export interface ScenarioBenchTest extends Omit<BenchFile, "at" | "results"> {
  readonly at: Instant;
  readonly results: readonly ScenarioResult[];
}

type EventFile = Scenario["events"]["once"][number];
export interface ScenarioEvent extends Omit<EventFile, "at" | "until" | "sentAt"> {
  readonly at: Instant;
  readonly until?: Instant;
  /** When it reached the log, where it was written without a network. */
  readonly sentAt?: Instant;
}

const LAST_DAY = 14;

/** After the scenario's days its people go on testing: each system's last full test (one with total ammonia) every day at its hour. */
function routineTests(
  scenario: Scenario,
  clock: ScenarioClock,
  from: Instant,
  to: Instant,
): ScenarioBenchTest[] {
  const last = new Map<string, BenchFile>();
  for (const test of scenario.bench) {
    const full = test.results.some((result) => result.quantity === "total_ammonia");
    const before = last.get(test.system);
    if (full && (!before || clock.instantOf(test.at) > clock.instantOf(before.at)))
      last.set(test.system, test);
  }
  const [first, end] = [Math.floor(clock.localOf(from) / DAY) + 1, Math.floor(clock.localOf(to) / DAY) + 1];
  const tests: ScenarioBenchTest[] = [];
  for (let day = Math.max(first, LAST_DAY + 1); day <= end; day++)
    for (const { results, at, note: _, ...test } of last.values()) {
      const hour = at.slice(at.indexOf(" ") + 1);
      const plain = results.map(({ correction: __, ...result }) => result);
      tests.push({ ...test, at: clock.instantOf(`D${day} ${hour}`), results: plain });
    }
  return tests;
}

/** Bench tests sampled in [from, to), rising. */
export function benchBetween(
  scenario: Scenario,
  anchor: Instant,
  from: Instant,
  to: Instant,
): ScenarioBenchTest[] {
  const clock = openClock(scenario.site.zone, anchor);
  const told = scenario.bench.map(({ results, ...test }) => ({
    ...test,
    at: clock.instantOf(test.at),
    results: results.map((result) => timed(result, clock)),
  }));
  return [...told, ...routineTests(scenario, clock, from, to)]
    .filter((test) => test.at >= from && test.at < to)
    .sort((a, b) => a.at - b.at);
}

function timed({ correction, ...result }: ResultFile, clock: ScenarioClock): ScenarioResult {
  if (!correction) return result;
  return { ...result, correction: { ...correction, at: clock.instantOf(correction.at) } };
}

/** Log entries that begin in [from, to), rising; the daily ones (feeds, rounds) come on each local day. */
export function eventsBetween(
  scenario: Scenario,
  anchor: Instant,
  from: Instant,
  to: Instant,
): ScenarioEvent[] {
  const clock = openClock(scenario.site.zone, anchor);
  const once = scenario.events.once.map(({ at, until, sentAt, ...event }) => ({
    ...event,
    at: clock.instantOf(at),
    ...(until !== undefined && { until: clock.instantOf(until) }),
    ...(sentAt !== undefined && { sentAt: clock.instantOf(sentAt) }),
  }));
  const daily: ScenarioEvent[] = [];
  const firstDay = Math.floor(clock.localOf(from) / DAY);
  const lastDay = Math.floor(clock.localOf(to) / DAY);
  for (let day = firstDay; day <= lastDay; day++)
    for (const { clock: time, lastsMin, ...event } of scenario.events.daily) {
      const at = clock.instantOf(`D${day + 1} ${time}`);
      daily.push({ ...event, at, ...(lastsMin !== undefined && { until: at + lastsMin * MINUTE }) });
    }
  return [...once, ...daily].filter((event) => event.at >= from && event.at < to).sort((a, b) => a.at - b.at);
}
