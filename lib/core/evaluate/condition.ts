/** How one condition of a stream begins, grows, eases and ends: delays before it is a finding and before it is over. */
import {
  type EvidenceOf,
  type FindingKind,
  findingId,
  type KeptEvidence,
  type Level,
  type RuleOf,
} from "../alarms/finding.ts";
import type { Instant } from "../time/instant.ts";
import { type Condition, NOT_HELD, type OpenFinding } from "./water-state.ts";

export interface Observation {
  readonly at: Instant;
  readonly value: number;
  /** The level the value itself stands for, and the one it stands for with the deadband: never lower than the first. */
  readonly level: Level;
  readonly eased: Level;
  readonly delayMs: number;
  readonly late: boolean;
  /** Larger is worse. */
  readonly badness: number;
}

/** What ended, or null. A finding that goes on stays in `condition.open`. */
export interface Closed {
  readonly finding: OpenFinding;
  readonly ended: Instant;
}

/** Since when each level up to this one is held: streaks go on, begin at `at`, or are over. Changes `condition`. */
function keepSince(condition: Condition, level: Level, at: Instant): void {
  if (level === 0) {
    condition.since = NOT_HELD;
    condition.worst = undefined;
    return;
  }
  const [look, action, urgent] = condition.since;
  const toAction = level < 2 ? null : (action ?? at);
  const toUrgent = level < 3 ? null : (urgent ?? at);
  if (look === null || toAction !== action || toUrgent !== urgent)
    condition.since = [look ?? at, toAction, toUrgent];
}

/** The highest level that has been held for the delay. */
function heldLevel(condition: Condition, at: Instant, delayMs: number): Level {
  for (const each of [3, 2, 1] as const) {
    const since = condition.since[each - 1];
    if (since !== null && since !== undefined && at - since >= delayMs) return each;
  }
  return 0;
}

/** After a pause longer than the gap nothing has been *held*: every streak starts again, what is open stays open. */
export function breakStreaks(condition: Condition): void {
  condition.since = NOT_HELD;
  condition.worst = undefined;
  condition.back = null;
}

/**
 * Take one observation. A level counts when it was held for the delay; it eases when the value has been better than it, past the
 * deadband, for the same time. `open` is filled when the condition becomes a finding.
 */
export function stepCondition<K extends FindingKind>(
  condition: Condition,
  seen: Observation,
  stream: number,
  kind: K,
  rule: RuleOf<K>,
  evidence: () => EvidenceOf<K>,
): Closed | null {
  keepSince(condition, seen.level, seen.at);
  if (seen.level === 0 && condition.level === 0) return null;
  // What is worst while the delay runs is the worst of the finding too.
  if (!condition.open && seen.level > 0 && seen.badness > (condition.worst?.badness ?? 0))
    condition.worst = { value: seen.value, at: seen.at, badness: seen.badness, evidence: evidence() };
  const held = heldLevel(condition, seen.at, seen.delayMs);
  if (held > condition.level) {
    condition.level = held;
    condition.back = null;
    raise(condition, held, seen, stream, kind, rule, evidence);
  }
  const { open } = condition;
  if (!open) return null;
  if (seen.level > 0 && seen.badness > open.badness) worsen(open, seen, evidence);
  return ease(condition, open, seen);
}

function raise(
  condition: Condition,
  held: Level,
  seen: Observation,
  stream: number,
  kind: FindingKind,
  rule: string,
  evidence: () => KeptEvidence,
): void {
  if (condition.open) {
    condition.open.peak = Math.max(condition.open.peak, held) as Level;
    return;
  }
  const began = condition.since[0] ?? seen.at;
  const { worst } = condition;
  condition.worst = undefined;
  condition.open = {
    id: findingId(stream, kind, rule, began),
    rule,
    began,
    raised: seen.at,
    peak: held,
    late: seen.late,
    worst: worst?.value ?? seen.value,
    worstAt: worst?.at ?? seen.at,
    badness: worst?.badness ?? seen.badness,
    evidence: worst?.evidence ?? evidence(),
  };
}

function worsen(open: OpenFinding, seen: Observation, evidence: () => KeptEvidence): void {
  open.worst = seen.value;
  open.worstAt = seen.at;
  open.badness = seen.badness;
  open.evidence = evidence();
}

function ease(condition: Condition, open: OpenFinding, seen: Observation): Closed | null {
  if (seen.eased >= condition.level) {
    condition.back = null;
    return null;
  }
  condition.back ??= seen.at;
  if (seen.at - condition.back < seen.delayMs) return null;
  const ended = condition.back;
  condition.level = seen.eased;
  condition.back = null;
  if (seen.eased > 0) return null;
  condition.open = null;
  return { finding: open, ended };
}
