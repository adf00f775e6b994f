/**
 * What the evaluator remembers of one system on the receive clock: silence, and the alarms that findings raise. Nothing here is judged again later:
 * it says what was known then. Time is an argument.
 */
import { type Alarm, type AlarmTransition, isStanding, nextAlarmState } from "../alarms/alarm.ts";
import {
  type EvidenceOf,
  type Finding,
  findingId,
  interrupts,
  type Level,
  levelOf,
  severityOf,
} from "../alarms/finding.ts";
import { type Instant, MINUTE, SECOND } from "../time/instant.ts";
import { CONDITIONS, type ConditionName, conditionOf, kindOf } from "./conditions.ts";
import { isMuted, type MuteWindow } from "./mute-windows.ts";
import { beginOverrun, endOverrun, type Overruns } from "./overrun.ts";
import type { StreamSettings, SystemSettings } from "./settings.ts";
import type { WaterState } from "./water-state.ts";

/** Timers fire at the first instant of this grid at or after they fall due. */
const GRID = 10 * SECOND;
/**
 * What comes late comes in blocks: whether a condition still holds is asked at the newest reading of a block, when no more has come for
 * `SETTLED`, and at the latest `SETTLED_AT_LATEST` after the first. Our own.
 */
const SETTLED = 30 * SECOND;
const SETTLED_AT_LATEST = 2 * MINUTE;
const onGrid = (due: Instant): Instant => Math.ceil(due / GRID) * GRID;

export interface ReceiveState {
  /** When a stream will have been silent for too long, on the receive clock. */
  readonly due: Map<number, Instant>;
  /** Streams whose newest reading came late, until it is settled whether what it shows still holds. */
  readonly unsettled: Map<number, Unsettled>;
  /** Streams now silent, with their open finding. */
  readonly silent: Map<number, Finding>;
  /** Standing alarms by stream and condition. */
  readonly alarms: Map<string, Alarm>;
  /** What people logged that explains the water for a while: no new alarm rings for it. */
  quiet: readonly MuteWindow[];
  /** What people logged ran to its cap, and what it explained goes on. */
  readonly overruns: Overruns;
  /** No timer falls due before this; may be too early, never too late. */
  nextDue: Instant;
}
interface Unsettled {
  readonly first: Instant;
  readonly due: Instant;
}
export interface ReceiveEffects {
  readonly findings: Map<string, Finding>;
  readonly alarms: Map<string, Alarm>;
  readonly transitions: AlarmTransition[];
}

export const emptyReceiveState = (): ReceiveState => ({
  due: new Map(),
  unsettled: new Map(),
  silent: new Map(),
  alarms: new Map(),
  quiet: [],
  overruns: new Map(),
  nextDue: Number.POSITIVE_INFINITY,
});
export const emptyEffects = (): ReceiveEffects => ({
  findings: new Map(),
  alarms: new Map(),
  transitions: [],
});

const alarmKey = (stream: number, condition: ConditionName | "silent"): string => `${stream}.${condition}`;

/** Which of its conditions an alarm stands for, from its kind and rule: for restoring them from what is stored. */
export function alarmKeyOf(alarm: Alarm): string {
  return alarmKey(alarm.stream, conditionOf(alarm.kind, alarm.rule) ?? "silent");
}

function setDue(receiving: ReceiveState, stream: StreamSettings, from: Instant): void {
  if (stream.silenceMs === null) return;
  const due = from + stream.silenceMs;
  receiving.due.set(stream.id, due);
  if (due < receiving.nextDue) receiving.nextDue = due;
}

/** A reading of the stream has arrived: its silence, if any, is over. */
export function noteArrival(
  receiving: ReceiveState,
  system: SystemSettings,
  stream: StreamSettings,
  received: Instant,
  effects: ReceiveEffects,
): void {
  setDue(receiving, stream, received);
  const finding = receiving.silent.get(stream.id);
  if (!finding) return;
  receiving.silent.delete(stream.id);
  effects.findings.set(finding.id, { ...finding, ended: received });
  step(
    receiving,
    system,
    stream,
    "silent",
    0,
    finding,
    { eventAt: received, at: received, value: null, limit: null },
    effects,
  );
}

/** Accepting has just started: what was not heard while it was down is not the probes' silence. */
export function acceptingStarted(receiving: ReceiveState, system: SystemSettings, at: Instant): void {
  for (const stream of system.streams) if (!receiving.silent.has(stream.id)) setDue(receiving, stream, at);
}

/** Fire every timer that falls due up to `now`, in the order in which they fall due. */
export function fireTimers(
  receiving: ReceiveState,
  system: SystemSettings,
  water: WaterState,
  now: Instant,
  effects: ReceiveEffects,
): void {
  if (onGrid(receiving.nextDue) > now) return;
  const fired: Timer[] = [];
  let next = Number.POSITIVE_INFINITY;
  const take = (id: number, due: Instant, isSilence: boolean) => {
    const stream = system.byId.get(id);
    if (!stream) return;
    if (onGrid(due) <= now) fired.push({ due, stream, isSilence });
    else if (due < next) next = due;
  };
  for (const [id, due] of receiving.due) take(id, due, true);
  for (const [id, { due }] of receiving.unsettled) take(id, due, false);
  receiving.nextDue = next;
  fired.sort(
    (a, b) => a.due - b.due || b.stream.id - a.stream.id || Number(b.isSilence) - Number(a.isSilence),
  );
  for (const { due, stream, isSilence } of fired) {
    if (isSilence) {
      receiving.due.delete(stream.id);
      // A system that was closed has nothing to say.
      const { closed } = system.system;
      if (closed != null && onGrid(due) >= closed) continue;
      raiseSilence(receiving, system, stream, water, onGrid(due), effects);
    } else {
      receiving.unsettled.delete(stream.id);
      moveAlarms(receiving, system, stream, water, onGrid(due), effects);
    }
  }
}

interface Timer {
  readonly due: Instant;
  readonly stream: StreamSettings;
  readonly isSilence: boolean;
}

function raiseSilence(
  receiving: ReceiveState,
  system: SystemSettings,
  stream: StreamSettings,
  water: WaterState,
  at: Instant,
  effects: ReceiveEffects,
): void {
  const last = water.streams.get(stream.id);
  const lastAt = last && last.at >= 0 ? last.at : null;
  const level: Level = stream.critical ? 2 : 1;
  const began = lastAt ?? at - (stream.silenceMs ?? 0);
  const evidence: EvidenceOf<"silent"> = {
    lastAt,
    interval: stream.interval,
    lastValue: lastAt === null ? null : (last?.value ?? null),
    sender: last?.sender ?? null,
  };
  const finding: Finding = {
    id: findingId(stream.id, "silent", "", began),
    system: system.system.id,
    stream: stream.id,
    quantity: stream.quantity,
    kind: "silent",
    rule: "",
    severity: severityOf(level),
    began,
    raised: at,
    ended: null,
    evidence,
    late: false,
  };
  receiving.silent.set(stream.id, finding);
  effects.findings.set(finding.id, finding);
  step(
    receiving,
    system,
    stream,
    "silent",
    level,
    finding,
    { eventAt: at, at, value: null, limit: null },
    effects,
  );
}

/**
 * Hold the conditions of a stream, as its newest reading left them, against its alarms: what still holds there rings, however late that reading
 * came; what had ended before it became known does not. Recorded history moves none.
 */
export function updateAlarms(
  receiving: ReceiveState,
  system: SystemSettings,
  stream: StreamSettings,
  water: WaterState,
  received: Instant,
  effects: ReceiveEffects,
): void {
  const state = water.streams.get(stream.id);
  if (!state || state.recorded) return;
  // A result of the bench comes alone and is the newest there is.
  if (state.late && stream.origin !== "bench") {
    leaveUnsettled(receiving, stream.id, received);
    return;
  }
  if (receiving.unsettled.size > 0) receiving.unsettled.delete(stream.id);
  moveAlarms(receiving, system, stream, water, received, effects);
}

/** Ask later what the newest reading of a stream shows: more of its block may follow. */
export function leaveUnsettled(receiving: ReceiveState, stream: number, received: Instant): void {
  const first = receiving.unsettled.get(stream)?.first ?? received;
  const due = Math.min(received + SETTLED, first + SETTLED_AT_LATEST);
  receiving.unsettled.set(stream, { first, due });
  if (due < receiving.nextDue) receiving.nextDue = due;
}

function moveAlarms(
  receiving: ReceiveState,
  system: SystemSettings,
  stream: StreamSettings,
  water: WaterState,
  received: Instant,
  effects: ReceiveEffects,
): void {
  const state = water.streams.get(stream.id);
  if (!state || state.recorded) return;
  for (const name of CONDITIONS) {
    const { level, open } = state.conditions[name];
    if (receiving.overruns.size > 0 && !interrupts(level))
      endOverrun(receiving.overruns, stream.id, name, state.at, effects.findings);
    // For every reading there is: where nothing stands and nothing interrupts there is nothing to look up.
    if (receiving.alarms.size === 0 && !interrupts(level)) continue;
    const alarm = receiving.alarms.get(alarmKey(stream.id, name));
    if (!alarm && (!interrupts(level) || isMuted(receiving.quiet, stream, name, level, state.at))) continue;
    if (!alarm && receiving.quiet.length > 0) {
      const standing = { name, level, open, at: state.at };
      beginOverrun(receiving.overruns, receiving.quiet, system, stream, standing, received, effects.findings);
    }
    const limit = open?.evidence.limit;
    const facts = {
      eventAt: state.at,
      at: received,
      value: state.value,
      limit: typeof limit === "number" ? limit : null,
    };
    const finding = open ? { id: open.id, kind: kindOf(name), rule: open.rule } : null;
    step(
      receiving,
      system,
      stream,
      name,
      level,
      finding as Pick<Finding, "id" | "kind" | "rule"> | null,
      facts,
      effects,
    );
  }
}

/** A person has seen an alarm. Nothing happens where it is back to normal already, or was seen before. */
export function acknowledge(
  receiving: ReceiveState,
  given: { readonly alarm: string; readonly by: string; readonly at: Instant; readonly received: Instant },
  effects: ReceiveEffects,
): void {
  for (const [key, alarm] of receiving.alarms) {
    if (alarm.id !== given.alarm) continue;
    const to = nextAlarmState(alarm.state, { kind: "acknowledged", by: given.by });
    if (to === alarm.state) return;
    const seen: Alarm = { ...alarm, state: to, acknowledged: given.received, acknowledgedBy: given.by };
    effects.alarms.set(seen.id, seen);
    effects.transitions.push({
      alarm: seen.id,
      from: alarm.state,
      to,
      cause: `acknowledged by ${given.by}`,
      value: null,
      limit: null,
      eventAt: given.at,
      at: given.received,
    });
    if (isStanding(to)) receiving.alarms.set(key, seen);
    else receiving.alarms.delete(key);
    return;
  }
}

interface Facts {
  readonly eventAt: Instant;
  readonly at: Instant;
  readonly value: number | null;
  readonly limit: number | null;
}

function step(
  receiving: ReceiveState,
  system: SystemSettings,
  stream: StreamSettings,
  condition: ConditionName | "silent",
  level: Level,
  finding: Pick<Finding, "id" | "kind" | "rule"> | null,
  facts: Facts,
  effects: ReceiveEffects,
): void {
  const key = alarmKey(stream.id, condition);
  const before = receiving.alarms.get(key);
  const active = interrupts(level);
  if (!before && !(active && finding)) return;
  // A standing alarm whose finding is another one now (the old ended unseen) goes on: it is still the same unanswered question.
  const escalated = !!before && active && level > levelOf(before.severity);
  const from = before?.state ?? "NORMAL";
  const to = nextAlarmState(from, active ? { kind: "active", escalated } : { kind: "cleared" });
  if (before && to === from && !escalated) return;
  const alarm: Alarm = before
    ? {
        ...before,
        state: to,
        severity: escalated ? severityOf(level as Exclude<Level, 0>) : before.severity,
        cleared: active ? null : (before.cleared ?? facts.at),
        acknowledged: to === "UNACK" && from === "ACK" ? null : before.acknowledged,
      }
    : {
        id: `${finding?.id}.${facts.at}`,
        finding: finding?.id ?? "",
        system: system.system.id,
        stream: stream.id,
        quantity: stream.quantity,
        kind: finding?.kind ?? "out of band",
        rule: finding?.rule ?? condition,
        severity: severityOf(level as Exclude<Level, 0>),
        state: to,
        raised: facts.at,
        cleared: null,
        acknowledged: null,
        acknowledgedBy: null,
      };
  if (to !== from)
    effects.transitions.push({
      alarm: alarm.id,
      from,
      to,
      cause: active ? (escalated ? `past ${alarm.severity} limit` : "condition active") : "condition cleared",
      value: facts.value,
      limit: facts.limit,
      eventAt: facts.eventAt,
      at: facts.at,
    });
  effects.alarms.set(alarm.id, alarm);
  if (isStanding(to)) receiving.alarms.set(key, alarm);
  else receiving.alarms.delete(key);
}
