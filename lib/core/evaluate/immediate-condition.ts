import type { Level } from "../alarms/finding.ts";
import type { Instant } from "../time/instant.ts";
import { stepCondition } from "./condition.ts";
import { type ConditionName, type EvidenceOn, kindOf, type RuleOn } from "./conditions.ts";
import { finishCondition, type JudgeContext } from "./judge.ts";
import type { Outputs } from "./outputs.ts";

/** Move one condition that counts at once and is over when it has been calm for `calmMs`; a level from `since` on. */
export function stepImmediateCondition<N extends ConditionName>(
  judged: JudgeContext,
  name: N,
  rule: RuleOn<N>,
  level: Level,
  badness: number,
  calmMs: number,
  evidence: () => EvidenceOn<N>,
  out: Outputs,
  since: Instant = judged.at,
): void {
  const condition = judged.state.conditions[name];
  if (level === 0 && condition.level === 0) return;
  if (condition.since[0] === null && level > 0) condition.since = [since, level > 1 ? since : null, null];
  const { at, value, late } = judged;
  const closed = stepCondition(
    condition,
    { at, value, level, eased: level, delayMs: level === 0 ? calmMs : 0, late, badness },
    judged.stream.id,
    kindOf(name),
    rule,
    evidence,
  );
  finishCondition(judged, kindOf(name), closed, out);
}
