import type { FindingView, StreamState } from "#contract/views.ts";
import { isBelievable, isSilent, streamStanding } from "#core/alarms/stream-standing.ts";
import { bandFor, edgesAt, planAt } from "#core/habitat/index.ts";
import { isGood } from "#core/quality/flag.ts";
import { basisAt, basisWords, hasBasis } from "#core/set-up/probe-basis.ts";
import { isInForce } from "#core/time/in-force.ts";
import type { Instant } from "#core/time/instant.ts";
import { quantity, stateWord } from "#core/units/index.ts";
import { labelOf } from "#core/units/quantity-label.ts";
import type { BandEdges, Current, Stream } from "#store/port.ts";
import type { Sweep } from "../deps.ts";
import type { SystemSetUp } from "../set-up.ts";
import { widened } from "./sweep.ts";
import { noTargetWords } from "./system-notes.ts";

/** What was read about one stream. */
export interface Known {
  readonly current: Current | undefined;
  readonly sweep: Sweep | undefined;
  /** Open findings of this stream. */
  readonly findings: readonly FindingView[];
}

function bandNow(at: SystemSetUp, stream: Stream, current: Current | undefined, now: Instant) {
  const band = bandFor(at.bands, at.system.id, stream.quantity, stream.pointCode, now);
  const edges: BandEdges | null = current?.band ?? (band ? edgesAt(band.months, now, at.site.zone) : null);
  const noTarget = noTargetWords(at, stream, now);
  // What is judged meanwhile is no target: only its limits are shown.
  if (edges && noTarget !== undefined)
    return { edges: { ...edges, low: null, high: null }, source: noTarget, hasTarget: false };
  return { edges, source: band?.source ?? null, hasTarget: true };
}

function planNow(at: SystemSetUp, stream: Stream, now: Instant): number | null {
  const plan = at.plans.find((row) => row.quantity === stream.quantity && isInForce(row, now));
  const value = plan ? planAt(plan.shape, now) : Number.NaN;
  return Number.isFinite(value) ? value : null;
}

/** One stream now, with its verdict. `now` is the receiving clock. */
export function streamState(at: SystemSetUp, stream: Stream, known: Known, now: Instant): StreamState {
  const { current } = known;
  const spec = quantity(stream.quantity);
  const { label, unit, unitLabel, decimals } = labelOf(stream.quantity);
  const silent = isSilent(stream.interval, known, now);
  const band = bandNow(at, stream, current, now);
  const word = spec?.kind === "state" && current ? (stateWord(spec, current.value) ?? null) : null;
  const trusted = isBelievable(current, silent);
  const sweep = widened(known.sweep, current && isGood(current.flag) ? current.value : null);
  return {
    stream: stream.id,
    point: stream.pointCode,
    role: stream.pointRole,
    quantity: stream.quantity,
    label,
    unit,
    unitLabel,
    decimals,
    origin: stream.origin,
    critical: stream.critical,
    ...(hasBasis(stream)
      ? { basis: basisWords(stream.quantity, basisAt(stream.basis, current?.at ?? now)) ?? "" }
      : {}),
    at: current?.at ?? null,
    value: current?.value ?? null,
    low: current?.low ?? null,
    high: current?.high ?? null,
    word,
    flag: current?.flag ?? 9,
    reasons: current ? [...current.reasons] : [],
    received: current?.received ?? null,
    silent,
    deviation: trusted ? current.deviation : null,
    band: band.edges,
    bandSource: band.source,
    rate: current?.rate ?? null,
    plan: planNow(at, stream, now),
    sweepLow: sweep?.low ?? null,
    sweepHigh: sweep?.high ?? null,
    standing: streamStanding(
      { quantity: stream.quantity, hasBand: band.edges !== null, hasTarget: band.hasTarget, word },
      known,
      silent,
    ),
  };
}
