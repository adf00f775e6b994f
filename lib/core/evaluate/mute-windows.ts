/** Which alarms a logged event keeps from ringing. Evaluation goes on, findings are kept: only the call is withheld, and only for a time. */
import type { Level } from "../alarms/finding.ts";
import type { LogEntry } from "../logbook/entry.ts";
import { inForce } from "../logbook/entry.ts";
import { logKind, type QuietRule } from "../logbook/kinds.ts";
import { mayBeQuiet, quietRules, quietUntil } from "../logbook/quiet.ts";
import { pointRole } from "../set-up/point-role.ts";
import { type Instant, MINUTE } from "../time/instant.ts";
import { CONDITION_SPECS, type ConditionName } from "./conditions.ts";
import type { StreamSettings } from "./settings.ts";

export interface MuteWindow {
  /** The log entry it comes from. */
  readonly root: string;
  readonly from: Instant;
  readonly until: Instant;
  readonly rules: readonly QuietRule[];
  /** What it is called, where it is work that ran to its cap; else null: it was over before, or was done in a moment. */
  readonly capped: string | null;
}

/** The windows of log entries, as their versions in force have them; entries that keep nothing quiet give none. */
export function muteWindowsOf(entries: readonly LogEntry[]): MuteWindow[] {
  return entries.flatMap((entry): MuteWindow[] => {
    const version = inForce(entry);
    const until = quietUntil(version);
    const rules = quietRules(version);
    if (until === null || until <= version.at || rules.length === 0) return [];
    const kind = logKind(version.kind);
    const isCapped = kind?.lasts === true && until === version.at + kind.capMinutes * MINUTE;
    return [{ root: entry.root, from: version.at, until, rules, capped: isCapped ? kind.label : null }];
  });
}

const isRate = (condition: ConditionName) => CONDITION_SPECS[condition].part === "rate";

/** Whether a rule is about a stream at all, whatever part of it. */
export function isAbout(
  rule: QuietRule,
  stream: {
    readonly quantity: string;
    readonly pointRole: StreamSettings["pointRole"];
    readonly pointCode: string;
  },
): boolean {
  if (rule.quantity !== stream.quantity) return false;
  if (rule.at !== null && !pointRole(stream.pointRole)[rule.at]) return false;
  return rule.point === null || rule.point === stream.pointCode;
}

function covers(rule: QuietRule, stream: StreamSettings, condition: ConditionName): boolean {
  if (!isAbout(rule, stream)) return false;
  return rule.part === "all" || rule.part === CONDITION_SPECS[condition].part;
}

/**
 * Whether a condition of a stream, at a moment of event time, is explained by what somebody logged. Level and leak never are, nor the
 * action limits of oxygen and temperature (their rates may be).
 */
export function isMuted(
  windows: readonly MuteWindow[],
  stream: StreamSettings,
  condition: ConditionName,
  level: Level,
  at: Instant,
): boolean {
  if (windows.length === 0 || !mayBeQuiet(stream.quantity, isRate(condition) ? 1 : level)) return false;
  return windows.some(
    (window) =>
      at >= window.from && at < window.until && window.rules.some((rule) => covers(rule, stream, condition)),
  );
}

/** The window that explained a condition until it had run to its cap, where the condition began before that and goes on; null where there is none. */
export function overrunWindow(
  windows: readonly MuteWindow[],
  stream: StreamSettings,
  condition: ConditionName,
  level: Level,
  began: Instant,
  at: Instant,
): MuteWindow | null {
  if (!mayBeQuiet(stream.quantity, isRate(condition) ? 1 : level)) return null;
  let last: MuteWindow | null = null;
  for (const window of windows) {
    const isOver = window.capped !== null && began < window.until && window.until <= at;
    if (!isOver || !window.rules.some((rule) => covers(rule, stream, condition))) continue;
    if (last === null || window.until > last.until) last = window;
  }
  return last;
}
