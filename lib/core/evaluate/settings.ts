/**
 * What the evaluator needs to know of one system, compiled once from what is set up: its streams in the order in which readings of
 * one instant are judged, their bands, plans, rules and delays, and what is derived from what.
 */
import { onDelay, silenceAfter, stateDelay } from "../alarms/delays.ts";
import { type Repeatability, repeatability } from "../drift/bench-trend.ts";
import { type CourseLimits, courseLimitsFor, tolerant } from "../drift/course-limits.ts";
import { type RateRule, rateRulesFor } from "../drift/rate-rules.ts";
import type { TargetBand } from "../habitat/index.ts";
import { type DatedSchedule, lightStreamOf } from "../light/index.ts";
import { type CheckRule, checkRule } from "../probes/bench-check.ts";
import { HOUR, MINUTE } from "../time/instant.ts";
import { type NumberQuantity, QUANTITIES, type StateQuantity } from "../units/quantity.ts";
import { type Derivation, derivationsOf, rankOf } from "./derivations.ts";
import type { EvaluatorFacts, PlanFacts, StreamFacts, SystemFacts } from "./facts.ts";

export interface StreamSettings extends StreamFacts {
  readonly spec: NumberQuantity | StateQuantity;
  /** Readings of one instant are judged in rising rank, then stream id: inputs before what is computed from them. */
  readonly rank: number;
  readonly bands: readonly TargetBand[];
  readonly plans: readonly PlanFacts[];
  readonly rates: readonly RateRule[];
  /** Where the course of the stream is judged: what change is worth a word. */
  readonly course: CourseLimits | null;
  /** Longest window a rate looks back over, at least the two hours of the shown rate. */
  readonly windowMs: number;
  readonly delayMs: number;
  /** A longer pause between readings starts every streak again. */
  readonly gapMs: number;
  readonly silenceMs: number | null;
  readonly derivations: readonly Derivation[];
  /** When its probe was out for a check, and when it was set right, rising. */
  readonly visits: readonly { readonly from: number; readonly at: number }[];
  readonly setAt: readonly number[];
  /** How a probe is compared with the bench; null where it is not. */
  readonly check: CheckRule | null;
  /** Of a bench stream: the probes that measure the same at its point. */
  readonly checks: readonly number[];
  /** It speaks for the light of its system, and light was planned. */
  readonly isLight: boolean;
  /** Of a bench stream: how alike two tests of the same water are; null where its results are not checked for a trend. */
  readonly repeats: Repeatability | null;
  /** Of a bench stream of counted animals: each count is compared with the one before. */
  readonly isCount: boolean;
}
export interface SystemSettings {
  readonly system: SystemFacts;
  readonly zone: string;
  readonly elevation: number;
  readonly streams: readonly StreamSettings[];
  readonly byId: ReadonlyMap<number, StreamSettings>;
  /** Every calibration and change of a probe, rising in time. */
  readonly setRight: readonly { readonly at: number; readonly stream: number }[];
  readonly lightPlans: readonly DatedSchedule[];
}

const SHOWN_RATE_WINDOW = 2 * HOUR;
const LEAST_GAP = 15 * MINUTE;

/** Compile one system. */
export function compileSystem(facts: EvaluatorFacts): SystemSettings {
  const derivations = derivationsOf(facts);
  const streams = facts.streams
    .map((stream) => compileStream(stream, facts, derivations.get(stream.id) ?? []))
    .sort((a, b) => a.rank - b.rank || a.id - b.id);
  return {
    system: facts.system,
    zone: facts.zone,
    elevation: facts.elevation,
    streams,
    byId: new Map(streams.map((stream) => [stream.id, stream])),
    setRight: streams
      .flatMap((stream) => stream.setAt.map((at) => ({ at, stream: stream.id })))
      .sort((a, b) => a.at - b.at || a.stream - b.stream),
    lightPlans: facts.lightPlans ?? [],
  };
}

function compileStream(
  stream: StreamFacts,
  facts: EvaluatorFacts,
  derivations: readonly Derivation[],
): StreamSettings {
  const spec: NumberQuantity | StateQuantity = QUANTITIES[stream.quantity];
  const scheduled = stream.origin !== "bench" && stream.interval !== null;
  const isProbe = stream.origin === "probe" || stream.origin === "equipment";
  const rates =
    spec.kind === "number" && (scheduled || isProbe)
      ? rateRulesFor(stream.quantity, stream.pointRole, facts.system.volume)
      : [];
  const limits = isProbe ? (courseLimitsFor(stream.quantity) ?? null) : null;
  return {
    ...stream,
    spec,
    rank: rankOf(stream),
    bands: facts.bands.filter(
      (band) => band.quantity === stream.quantity && (band.point === null || band.point === stream.pointCode),
    ),
    plans: facts.plans.filter((plan) => plan.quantity === stream.quantity),
    rates,
    course: limits && tolerant(limits, stream.tolerance ?? 1),
    windowMs: Math.max(SHOWN_RATE_WINDOW, ...rates.map((rule) => rule.windowMs)),
    delayMs:
      spec.kind === "state"
        ? stateDelay(stream.quantity)
        : onDelay(stream.quantity, stream.interval, scheduled),
    gapMs: Math.max(LEAST_GAP, 3 * (stream.interval ?? 0)),
    silenceMs:
      stream.interval === null || stream.origin === "derived" || stream.origin === "bench"
        ? null
        : silenceAfter(stream.interval),
    derivations,
    ...probeSettings(stream, facts),
    isLight: (facts.lightPlans ?? []).length > 0 && lightStreamOf(facts.streams)?.id === stream.id,
    isCount: stream.origin === "bench" && stream.quantity === "animal_count",
    repeats: stream.origin === "bench" ? repeatability(stream.quantity) : null,
  };
}

function probeSettings(
  stream: StreamFacts,
  facts: EvaluatorFacts,
): Pick<StreamSettings, "visits" | "setAt" | "check" | "checks"> {
  const visits = (facts.visits ?? []).filter((visit) => visit.stream === stream.id);
  return {
    visits: visits.map(({ from, at }) => ({ from, at })).sort((a, b) => a.at - b.at),
    setAt: visits
      .filter((visit) => visit.isReset)
      .map((visit) => visit.at)
      .sort((a, b) => a - b),
    check: stream.origin === "probe" ? checkRule(stream.quantity) : null,
    checks:
      stream.origin === "bench" && checkRule(stream.quantity)
        ? facts.streams
            .filter(
              (other) =>
                other.origin === "probe" &&
                other.quantity === stream.quantity &&
                other.pointCode === stream.pointCode,
            )
            .map((other) => other.id)
        : [],
  };
}
