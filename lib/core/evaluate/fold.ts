/**
 * Folds readings into the event-time state of one system: flags, rollups, derived values, deviation from the target band, and the
 * findings "out of band", "too fast" and "wrong state". Deterministic: the same readings in order of (at, rank, stream) give the same
 * state and outputs, however they were batched.
 */
import { FLAG, isGood } from "../quality/flag.ts";
import { grossRange, isTimeSuspect, type Verdict, withReason } from "../quality/gross-range.ts";
import { DAY, type Instant, MINUTE } from "../time/instant.ts";
import { accumulate } from "./accumulate.ts";
import { breakStreaks } from "./condition.ts";
import { CONDITIONS } from "./conditions.ts";
import { derive } from "./derive.ts";
import type { FoldContext } from "./fold-context.ts";
import { type JudgeContext, judgeBand, judgeRate, judgeState } from "./judge.ts";
import { judgeCourse, judgeImpossible } from "./judge-course.ts";
import { judgeLight } from "./judge-light.ts";
import { judgeResults } from "./judge-results.ts";
import type { Input, Outputs } from "./outputs.ts";
import { isPlaceDry, noteLevel, noteSalt } from "./place-in-air.ts";
import { planned } from "./planned.ts";
import { advanceChecks, isOutForCheck, queuePair } from "./probe-check.ts";
import { screenReading, setAsideInAir } from "./screen-reading.ts";
import type { StreamSettings } from "./settings.ts";
import { closeFinding } from "./settle.ts";
import { emptyStream, type StreamState, type WaterState } from "./water-state.ts";

/** Later than this after its own time a reading is *found late*, and its findings say so. A bench result has a working day. */
const LATE = 15 * MINUTE;
const BENCH_LATE = DAY;
/** A pause counts as a gap when it is also this many times the one before it. */
const SLOWER_PACE = 3;
/** Readings left behind before the rest is moved to the front: what is held of them is memory of every stream. */
const COMPACT_AT = 64;

export const isLate = (input: Input, stream: StreamSettings): boolean =>
  input.recorded || input.received - input.at > (stream.origin === "bench" ? BENCH_LATE : LATE);

/** True where a reading sorts behind everything folded so far; one that does not asks for judging again from its time. */
export function isInOrder(water: WaterState, stream: StreamSettings, at: Instant): boolean {
  const { frontier } = water;
  if (at !== frontier.at) return at > frontier.at;
  if (stream.rank !== frontier.rank) return stream.rank > frontier.rank;
  return stream.id > frontier.stream;
}

/** A reading that is kept and flagged but is no part of the water's history: its own time cannot be believed. */
export const isTimeDoubtful = (input: Input): boolean =>
  input.held === true || (!input.recorded && isTimeSuspect(input.at, input.received));

/** Flag a reading whose time is doubtful: it is no part of the history. */
export function flagDoubtfulTime(input: Input, stream: StreamSettings, out: Outputs): void {
  const verdict = withReason(
    grossRange(input.value, stream.spec),
    input.held === true ? "clock_ahead" : "time_suspect",
  );
  out.flags.push({ stream: input.stream, at: input.at, flag: verdict.flag, reasons: verdict.reasons });
}

/** Fold one reading that `isInOrder`. Changes `water` and adds to `out`. */
export function foldReading(context: FoldContext, water: WaterState, input: Input, out: Outputs): void {
  const stream = context.settings.byId.get(input.stream);
  if (!stream) return;
  advanceStates(context, water, input.at, out);
  advanceChecks(context, water, input.at, closeFinding, out);
  applyBandChanges(context, water, input.at, out);
  water.frontier.at = input.at;
  water.frontier.rank = stream.rank;
  water.frontier.stream = stream.id;
  let verdict = grossRange(input.value, stream.spec);
  if (input.mark === "conflict" || input.mark === "possible_repeat" || input.mark === "not_sure")
    verdict = withReason(verdict, input.mark);
  if (isOutForCheck(stream, input.at)) verdict = withReason(verdict, "being_checked");
  take(context, water, stream, input, verdict, null, out);
}

const isOutsideSpan = (verdict: Verdict): boolean =>
  verdict.reasons.some((reason) => reason === "out_of_sensor_span" || reason === "out_of_plausible_span");

function touch(out: Outputs, stream: number): void {
  out.touched.add(stream);
  out.recent.push(stream);
}

interface Interval {
  readonly low: number | null;
  readonly high: number | null;
}

function take(
  context: FoldContext,
  water: WaterState,
  stream: StreamSettings,
  input: Input,
  given: Verdict,
  interval: Interval | null,
  out: Outputs,
): void {
  const { at, value } = input;
  const state = stateOf(water, stream.id);
  touch(out, stream.id);
  const isDry = isPlaceDry(water, stream, at);
  if (isDry) setAsideInAir(state, at, value);
  const believed = isDry ? withReason(given, "place_in_air") : given;
  const seen =
    stream.course && isGood(believed.flag)
      ? screenReading(context, stream, stream.course, state, at, value)
      : null;
  const verdict = seen?.reason ? withReason(believed, seen.reason) : believed;
  const good = isGood(verdict.flag);
  if (verdict.flag !== FLAG.pass)
    out.flags.push({ stream: stream.id, at, flag: verdict.flag, reasons: verdict.reasons });
  accumulate(stream.id, state, at, value, good, context.dayOf(at).start, out.rollups);
  state.at = at;
  state.value = value;
  state.flag = verdict.flag;
  state.reasons = verdict.reasons;
  state.mark = input.mark === "below" || input.mark === "above" ? input.mark : null;
  state.lower = interval?.low ?? null;
  state.upper = interval?.high ?? null;
  state.received = input.received;
  state.late = isLate(input, stream);
  state.recorded = input.recorded;
  state.sender = input.sender;
  state.deviation = null;
  const judged: JudgeContext = {
    context,
    water,
    stream,
    state,
    at,
    value,
    late: state.late,
    close: closeFinding,
  };
  if (seen) noteSalt(judged, seen.isAir, out);
  if (!good) {
    if (stream.course && seen) judgeCourse(judged, stream.course, seen, out);
    else if (stream.course && isOutsideSpan(verdict)) judgeImpossible(judged, out);
    return;
  }
  const pause = state.goodAt >= 0 ? at - state.goodAt : 0;
  if (state.goodAt >= 0) {
    // A record taken at a slower pace than the live stream (half-hourly, hourly) has no gaps for that.
    if (pause > stream.gapMs && pause > SLOWER_PACE * state.pace) {
      for (const name of CONDITIONS) breakStreaks(state.conditions[name]);
    }
    state.pace = pause;
  }
  state.goodAt = at;
  state.goodValue = value;
  state.goodMark = state.mark;
  if (stream.spec.kind === "state") {
    judgeState(judged, out);
    return;
  }
  state.deviation = judgeBand(judged, out);
  noteLevel(judged, out);
  if (stream.checks.length > 0 && state.mark === null) queuePair(water, stream, at, value, state.late);
  if (stream.course && seen) judgeCourse(judged, stream.course, seen, out);
  if (stream.isLight) judgeLight(judged, out);
  if (stream.origin === "bench") judgeResults(judged, out);
  else {
    remember(state, stream, at, value);
    if (stream.rates.length > 0) judgeRate(judged, out);
  }
  for (const derivation of stream.derivations) {
    const target = context.settings.byId.get(derivation.target);
    const result = target && derive(context.settings, water, derivation, value, at);
    if (!target || !result) continue;
    out.derived.push({
      stream: target.id,
      at,
      value: result.value,
      low: result.low,
      high: result.high,
      formula: result.formula,
    });
    let derivedVerdict = grossRange(result.value, target.spec);
    if (result.extrapolated && derivedVerdict.flag === FLAG.pass)
      derivedVerdict = { flag: FLAG.notEvaluated, reasons: ["extrapolated"] };
    take(
      context,
      water,
      target,
      { ...input, stream: target.id, value: result.value, mark: result.mark },
      derivedVerdict,
      result,
      out,
    );
  }
}

function stateOf(water: WaterState, stream: number): StreamState {
  let state = water.streams.get(stream);
  if (!state) {
    state = emptyStream();
    water.streams.set(stream, state);
  }
  return state;
}

/** Keep good values (minus their plan) for as long as a rate looks back. */
function remember(state: StreamState, stream: StreamSettings, at: Instant, value: number): void {
  state.t.push(at);
  state.v.push(value - planned(stream, at));
  while ((state.t[state.head] as number) < at - stream.windowMs) state.head++;
  if (state.head < COMPACT_AT) return;
  state.t = state.t.slice(state.head);
  state.v = state.v.slice(state.head);
  state.head = 0;
}

/** Wrong states become findings when they have lasted their delay, at the time that was, not at the next reading of their own. */
function advanceStates(context: FoldContext, water: WaterState, at: Instant, out: Outputs): void {
  if (water.pending.length === 0 || at <= water.frontier.at) return;
  for (const id of [...water.pending]) {
    const stream = context.settings.byId.get(id);
    const state = water.streams.get(id);
    const since = state?.conditions.state.since[0] ?? null;
    if (!stream || !state || since === null || at - since < stream.delayMs) continue;
    touch(out, id);
    const when = since + stream.delayMs;
    const late = state.lateSince;
    judgeState(
      { context, water, stream, state, at: when, value: state.goodValue, late, close: closeFinding },
      out,
    );
  }
}

/**
 * Another band has come into force since the reading before: the newest good value of its stream is compared with it at that moment. Not
 * where the stream has been silent since, or its newest value is doubtful: that is not evidence about the water. A result of the bench is
 * what is known until the next one.
 */
function applyBandChanges(context: FoldContext, water: WaterState, at: Instant, out: Outputs): void {
  if (at <= water.frontier.at) return;
  for (const { at: turn, stream } of context.bandChanges(water.frontier.at, at)) {
    const state = water.streams.get(stream.id);
    if (!state || state.goodAt < 0 || state.goodAt !== state.at || stream.spec.kind !== "number") continue;
    if (stream.interval !== null && turn - state.goodAt > stream.gapMs) continue;
    touch(out, stream.id);
    const judged: JudgeContext = {
      context,
      water,
      stream,
      state,
      at: turn,
      value: state.goodValue,
      late: state.late,
      close: closeFinding,
    };
    state.deviation = judgeBand(judged, out);
  }
}
