/** Gathers what one evaluation writes, so that each row is named once. */
import type { Finding } from "#core/alarms/finding.ts";
import type { Outputs } from "#core/evaluate/outputs.ts";
import type { ReceiveEffects } from "#core/evaluate/receive-state.ts";
import type { ClockAhead } from "#core/gateway/clock-ahead.ts";
import { SITE_DAY } from "#core/quality/rollup.ts";
import type { Instant } from "#core/time/instant.ts";
import type {
  Alarm,
  AlarmTransition,
  Checkpoint,
  Current,
  DerivedRow,
  EvaluationPatch,
  FlagRow,
  RollupRow,
} from "#store/port.ts";

type Replace = EvaluationPatch["replace"][number];

export interface PatchBuilder {
  readonly replace: Replace[];
  readonly flags: Map<string, FlagRow>;
  readonly derived: Map<string, DerivedRow>;
  readonly rollups: Map<string, RollupRow>;
  readonly findings: Map<string, Finding>;
  readonly alarms: Map<string, Alarm>;
  readonly transitions: AlarmTransition[];
  readonly current: Map<number, Current>;
  readonly streamsWithoutCurrent: Set<number>;
  readonly checkpoints: Map<string, Checkpoint>;
  readonly dropCheckpoints: EvaluationPatch["dropCheckpoints"][number][];
  readonly rejudge: Map<string, Instant>;
  readonly rejudged: Set<string>;
  readonly clocks: Map<string, ClockAhead>;
}

export const emptyPatch = (): PatchBuilder => ({
  replace: [],
  flags: new Map(),
  derived: new Map(),
  rollups: new Map(),
  findings: new Map(),
  alarms: new Map(),
  transitions: [],
  current: new Map(),
  streamsWithoutCurrent: new Set(),
  checkpoints: new Map(),
  dropCheckpoints: [],
  rejudge: new Map(),
  rejudged: new Set(),
  clocks: new Map(),
});

/** A time of which what is stored is right already, and longer than a moment what lies in it. */
export interface AlreadyRejudged {
  readonly from: Instant;
  readonly to: Instant;
  /** Where the site day that begins at an instant ends. */
  readonly dayEnd: (start: Instant) => Instant;
}

/**
 * The outputs of a live state that does not know the late data yet, without what reaches into the time that was judged again with them:
 * there it would put what it still believes over what is right, and the work behind it does not come back.
 */
export function withoutRejudged(
  out: Outputs,
  checkpoints: readonly Checkpoint[],
  { from, to, dayEnd }: AlreadyRejudged,
): { out: Outputs; checkpoints: readonly Checkpoint[] } {
  const isFree = (start: Instant, end: Instant) => end <= from || start >= to;
  const isMomentFree = ({ at }: { at: Instant }) => at < from || at >= to;
  const endOf = ({ width, start }: RollupRow) => (width === SITE_DAY ? dayEnd(start) : start + width);
  return {
    out: {
      ...out,
      flags: out.flags.filter(isMomentFree),
      derived: out.derived.filter(isMomentFree),
      rollups: out.rollups.filter((row) => isFree(row.start, endOf(row))),
      findings: new Map(
        [...out.findings].filter(([, each]) => isFree(each.raised, each.ended ?? Number.POSITIVE_INFINITY)),
      ),
    },
    // The one at the end of that time the work writes itself, when it goes on.
    checkpoints: checkpoints.filter(({ at }) => at <= from || at > to),
  };
}

export function addOutputs(patch: PatchBuilder, out: Outputs, checkpoints: readonly Checkpoint[]): void {
  for (const row of out.flags) patch.flags.set(`${row.stream} ${row.at}`, row);
  for (const row of out.derived) patch.derived.set(`${row.stream} ${row.at}`, row);
  for (const row of out.rollups) patch.rollups.set(`${row.width} ${row.stream} ${row.start}`, row);
  for (const [id, finding] of out.findings) patch.findings.set(id, finding);
  for (const row of checkpoints) patch.checkpoints.set(`${row.system} ${row.at}`, row);
}

export function addEffects(patch: PatchBuilder, effects: ReceiveEffects): void {
  for (const [id, finding] of effects.findings) patch.findings.set(id, finding);
  for (const [id, alarm] of effects.alarms) patch.alarms.set(id, alarm);
  patch.transitions.push(...effects.transitions);
}

export function finishPatch(patch: PatchBuilder, cursor: EvaluationPatch["cursor"]): EvaluationPatch {
  return {
    replace: patch.replace,
    flags: [...patch.flags.values()],
    derived: [...patch.derived.values()],
    rollups: [...patch.rollups.values()],
    findings: [...patch.findings.values()],
    alarms: [...patch.alarms.values()],
    transitions: patch.transitions,
    current: [...patch.current.values()],
    checkpoints: [...patch.checkpoints.values()],
    dropCheckpoints: patch.dropCheckpoints,
    streamsWithoutCurrent: [...patch.streamsWithoutCurrent],
    rejudge: [...patch.rejudge].map(([system, from]) => ({ system, from })),
    rejudged: [...patch.rejudged],
    clocks: [...patch.clocks.values()],
    cursor,
  };
}
