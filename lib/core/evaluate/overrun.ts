/**
 * A quiet window that ran to its cap while what it explained goes on: work that takes longer than such work does, or something else. The alarm of
 * the condition rings by itself; this says why only now. Kept on the receiving clock, like silence: it tells of what was known then.
 */
import { type EvidenceOf, type Finding, findingId, type Level } from "../alarms/finding.ts";
import { FINDING_KINDS } from "../alarms/kinds.ts";
import type { Instant } from "../time/instant.ts";
import { type ConditionName, kindOf } from "./conditions.ts";
import { type MuteWindow, overrunWindow } from "./mute-windows.ts";
import type { StreamSettings, SystemSettings } from "./settings.ts";
import type { OpenFinding } from "./water-state.ts";

/** Open findings of windows that ran over, by stream and condition. */
export type Overruns = Map<string, Finding>;
type OpenOverruns = Map<string, Finding>;

export const overrunKey = (stream: number, condition: string): string => `${stream}.${condition}`;

interface ActiveAlarm {
  readonly name: ConditionName;
  readonly level: Level;
  readonly open: OpenFinding | null;
  readonly at: Instant;
}

/** A condition interrupts and no window explains it now: did one until its cap? Adds to `overruns` and to `found`. */
export function beginOverrun(
  overruns: Overruns,
  windows: readonly MuteWindow[],
  system: SystemSettings,
  stream: StreamSettings,
  { name, level, open, at }: ActiveAlarm,
  received: Instant,
  found: OpenOverruns,
): void {
  const key = overrunKey(stream.id, name);
  if (open === null || overruns.has(key)) return;
  const window = overrunWindow(windows, stream, name, level, open.began, at);
  if (window === null) return;
  const evidence: EvidenceOf<"overrun"> = {
    work: window.capped,
    from: window.from,
    still: FINDING_KINDS[kindOf(name)].label,
  };
  const finding: Finding = {
    id: findingId(stream.id, "overrun", name, window.until),
    system: system.system.id,
    stream: stream.id,
    quantity: stream.quantity,
    kind: "overrun",
    rule: name,
    severity: "look",
    began: window.until,
    raised: received,
    ended: null,
    evidence,
    late: false,
  };
  overruns.set(key, finding);
  found.set(finding.id, finding);
}

/** The condition is over, or needs nobody any more: so is what was said of its window. */
export function endOverrun(
  overruns: Overruns,
  stream: number,
  name: ConditionName,
  at: Instant,
  found: OpenOverruns,
): void {
  const key = overrunKey(stream, name);
  const finding = overruns.get(key);
  if (!finding) return;
  overruns.delete(key);
  found.set(finding.id, { ...finding, ended: at });
}
