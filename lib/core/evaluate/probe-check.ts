/**
 * Compares bench results with the probe beside them, and says when the probe has drifted from them. A result waits until the readings after
 * its sample are in; a calibration starts the chart again and ends what was found of it. All of it in event time.
 */

import {
  addDifference,
  differenceOf,
  emptyCheck,
  isDrifting,
  limitAfter,
  scatterOf,
} from "../probes/bench-check.ts";
import { PAIRED_WITHIN } from "../probes/pairing.ts";
import { median } from "../statistics/robust.ts";
import type { Instant } from "../time/instant.ts";
import { stepCondition } from "./condition.ts";
import type { FoldContext } from "./fold-context.ts";
import type { JudgeContext } from "./judge.ts";
import { resetCourse } from "./judge-course.ts";
import type { Outputs } from "./outputs.ts";
import { planned } from "./planned.ts";
import type { StreamSettings } from "./settings.ts";
import type { StreamState, Unpaired, WaterState } from "./water-state.ts";

type Close = JudgeContext["close"];

/** A bench result waits for the readings after its sample. */
export function queuePair(
  water: WaterState,
  bench: StreamSettings,
  at: Instant,
  value: number,
  late: boolean,
): void {
  for (const probe of bench.checks) water.unpaired = [...water.unpaired, { probe, at, value, late }];
}

/**
 * Everything that falls due before a reading of instant `at`, in order of time: pairs whose readings are in, probes that were set right.
 * Called before that reading is folded.
 */
export function advanceChecks(
  context: FoldContext,
  water: WaterState,
  at: Instant,
  close: Close,
  out: Outputs,
): void {
  const { settings } = context;
  const last = settings.setRight.at(-1);
  const anySet = last !== undefined && last.at > water.frontier.at;
  if (!anySet && water.unpaired.length === 0) return;
  const due = water.unpaired.filter((each) => each.at + PAIRED_WITHIN < at);
  const set = anySet ? settings.setRight.filter((each) => each.at > water.frontier.at && each.at <= at) : [];
  if (due.length === 0 && set.length === 0) return;
  water.unpaired = water.unpaired.filter((each) => !due.includes(each));
  const events = [
    ...due.map((pair) => ({ at: pair.at + PAIRED_WITHIN, order: 1, pair, stream: pair.probe })),
    ...set.map((each) => ({ at: each.at, order: 0, pair: null, stream: each.stream })),
  ].sort(
    (a, b) =>
      a.at - b.at || a.order - b.order || a.stream - b.stream || (a.pair?.at ?? 0) - (b.pair?.at ?? 0),
  );
  for (const event of events) {
    const stream = settings.byId.get(event.stream);
    const state = water.streams.get(event.stream);
    if (!stream || !state) continue;
    if (event.pair) pair(context, stream, state, event.pair, close, out);
    else calibrationDone(context, stream, state, event.at, close, out);
  }
}

function probeMedian(stream: StreamSettings, state: StreamState, at: Instant): number | null {
  const values: number[] = [];
  for (let i = state.t.length - 1; i >= state.head; i--) {
    const then = state.t[i] as number;
    if (then < at - PAIRED_WITHIN) break;
    if (then <= at + PAIRED_WITHIN) values.push((state.v[i] as number) + planned(stream, then));
  }
  return values.length === 0 ? null : median(values);
}

const lastBefore = (instants: readonly Instant[], at: Instant): Instant =>
  instants.findLast((each) => each <= at) ?? -1;

function pair(
  context: FoldContext,
  stream: StreamSettings,
  state: StreamState,
  { at, value, late }: Unpaired,
  close: Close,
  out: Outputs,
): void {
  const rule = stream.check;
  const probe = probeMedian(stream, state, at);
  if (rule === null || probe === null) return;
  const since = lastBefore(stream.setAt, at);
  const before = state.check && state.check.since === since ? state.check : emptyCheck(since);
  // An older result that was typed in after a newer one is judged in its place: readings are folded in order of time.
  const check = addDifference(before, rule, differenceOf(rule, probe, value), at);
  state.check = check;
  const drifting = isDrifting(check, rule);
  const size = Math.abs(check.ewma);
  const when = at + PAIRED_WITHIN;
  const level = drifting ? 1 : 0;
  if (level === 0 && state.conditions.probe.level === 0) return;
  out.touched.add(stream.id);
  const closed = stepCondition(
    state.conditions.probe,
    {
      at: when,
      value: probe,
      level,
      // Nearer than half of what matters is agreement again.
      eased: size > rule.matters / 2 ? 1 : 0,
      delayMs: 0,
      late,
      badness: size,
    },
    stream.id,
    "drifting",
    "bench",
    () => ({
      value: probe,
      bench: value,
      apart: check.ewma,
      limit: Math.max(rule.matters, limitAfter(check.n, scatterOf(check, rule))),
      percent: rule.isPercent ? 1 : 0,
      tests: check.n,
      since: since < 0 ? null : since,
    }),
  );
  if (closed) close(stream, context.settings.system.id, "drifting", closed.finding, closed.ended, out);
}

function calibrationDone(
  context: FoldContext,
  stream: StreamSettings,
  state: StreamState,
  at: Instant,
  close: Close,
  out: Outputs,
): void {
  const { probe } = state.conditions;
  state.check = null;
  if (state.course) resetCourse(state.course, at);
  if (probe.open) {
    out.touched.add(stream.id);
    close(stream, context.settings.system.id, "drifting", probe.open, at, out);
  }
  probe.open = null;
  probe.level = 0;
  probe.since = [null, null, null];
  probe.back = null;
}

/** Whether a reading was taken while its probe was out for a check. */
export const isOutForCheck = (stream: StreamSettings, at: Instant): boolean =>
  stream.visits.length > 0 && stream.visits.some((visit) => at >= visit.from && at < visit.at);
