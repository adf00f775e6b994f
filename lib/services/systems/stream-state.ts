import type { FindingView, Standing, StreamState } from "#contract/views.ts";
import { traitsOf } from "#core/alarms/kinds.ts";
import { rankOf } from "#core/alarms/standing.ts";
import { bandFor, edgesAt, planAt } from "#core/habitat/index.ts";
import { isGood } from "#core/quality/flag.ts";
import { basisAt, basisWords, hasBasis } from "#core/set-up/probe-basis.ts";
import { isInForce } from "#core/time/in-force.ts";
import type { Instant } from "#core/time/instant.ts";
import { quantity, stateWord } from "#core/units/index.ts";
import type { BandEdges, Current, Stream } from "#store/port.ts";
import type { Sweep } from "../deps.ts";
import type { SystemSetUp } from "../set-up.ts";
import { labelOf } from "./finding-view.ts";
import { widened } from "./sweep.ts";

export const isWorse = (a: Standing, b: Standing): boolean => rankOf(a) < rankOf(b);
export const worstOf = (standings: readonly Standing[], none: Standing): Standing =>
  standings.reduce((worst, next) => (isWorse(next, worst) ? next : worst), none);

/** What was read about one stream. */
export interface Known {
  readonly current: Current | undefined;
  readonly sweep: Sweep | undefined;
  /** Open findings of this stream. */
  readonly findings: readonly FindingView[];
}

/** A value that says something about the water: good, and not overdue. */
function believable(current: Current | undefined, silent: boolean): current is Current {
  return current !== undefined && !silent && isGood(current.flag);
}

function isSilent(stream: Stream, { current, findings }: Known, now: Instant): boolean {
  if (findings.some((finding) => traitsOf(finding).isNotKnown)) return true;
  if (!current) return stream.interval !== null;
  return current.silentAt !== null && now >= current.silentAt;
}

/** The word of a state that is not as it should be stands at once, before its finding's delay has run. */
function standingOfWord(stream: Stream, word: string | null): Standing {
  const spec = quantity(stream.quantity);
  if (spec?.kind !== "state" || word === null) return "calm";
  return spec.wrong[word] ?? "calm";
}

function standingOf(
  stream: Stream,
  known: Known,
  silent: boolean,
  hasBand: boolean,
  word: string | null,
): Standing {
  const claimed = known.findings.map(
    (finding): Standing => (finding.severity === "look" ? "look" : "action"),
  );
  // Health before water: what a silent or failed probe last said is no evidence, so only findings speak for it.
  if (!believable(known.current, silent)) return worstOf(claimed, "unknown");
  const { deviation: far } = known.current;
  const water: Standing =
    far === null
      ? hasBand
        ? "unknown"
        : "calm"
      : far === 0
        ? "calm"
        : Math.abs(far) >= 1
          ? "action"
          : "look";
  return worstOf([...claimed, water, standingOfWord(stream, word)], "calm");
}

function bandNow(at: SystemSetUp, stream: Stream, current: Current | undefined, now: Instant) {
  const band = bandFor(at.bands, at.system.id, stream.quantity, stream.pointCode, now);
  const edges: BandEdges | null = current?.band ?? (band ? edgesAt(band.months, now, at.site.zone) : null);
  return { edges, source: band?.source ?? null };
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
  const silent = isSilent(stream, known, now);
  const band = bandNow(at, stream, current, now);
  const word = spec?.kind === "state" && current ? (stateWord(spec, current.value) ?? null) : null;
  const trusted = believable(current, silent);
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
    standing: standingOf(stream, known, silent, band.edges !== null, word),
  };
}
