import type { Level } from "../alarms/finding.ts";
import type { Instant } from "../time/instant.ts";
import { stepCondition } from "./condition.ts";
import { finish, type Judged } from "./judge.ts";
import type { Outputs } from "./outputs.ts";
import { type ConditionName, KIND_OF, type OpenFinding } from "./water-state.ts";

type Evidence = OpenFinding["evidence"];

/** Move one condition that counts at once and is over when it has been calm for `calmMs`; a level from `since` on. */
export function move(
  judged: Judged,
  name: ConditionName,
  rule: string,
  level: Level,
  badness: number,
  calmMs: number,
  evidence: () => Evidence,
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
    KIND_OF[name],
    rule,
    evidence,
  );
  finish(judged, KIND_OF[name], closed, out);
}
