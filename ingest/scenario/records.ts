/** What people wrote during the scenario: bench tests and log entries, with their times as instants. */
import { DAY, type Instant, MINUTE } from "../../lib/core/time/index.ts";
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

/** Bench tests sampled in [from, to), rising. */
export function benchBetween(
  scenario: Scenario,
  anchor: Instant,
  from: Instant,
  to: Instant,
): ScenarioBenchTest[] {
  const clock = openClock(scenario.site.zone, anchor);
  return scenario.bench
    .map(({ results, ...test }) => ({
      ...test,
      at: clock.instantOf(test.at),
      results: results.map((result) => timed(result, clock)),
    }))
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
