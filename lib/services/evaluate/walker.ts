/**
 * One system under evaluation: its live state at the frontier, snapshots of the last hours to go back to when a reading arrives out of
 * order, and what has been produced since the last commit.
 */

import { slopePerHour } from "#core/drift/rate.ts";
import { flagDoubtfulTime, foldReading, isInOrder, isTimeDoubtful } from "#core/evaluate/fold.ts";
import { createFoldContext, type FoldContext } from "#core/evaluate/fold-context.ts";
import { bandInForce, deviationOf, edgesFor } from "#core/evaluate/judge-band.ts";
import { emptyOutputs, type Input, type Outputs } from "#core/evaluate/outputs.ts";
import { planned } from "#core/evaluate/planned.ts";
import type { ReceiveState } from "#core/evaluate/receive-state.ts";
import type { StreamSettings, SystemSettings } from "#core/evaluate/settings.ts";
import { addOpenOutputs } from "#core/evaluate/settle.ts";
import { restoreSnapshot, snapshotOf, type WaterSnapshot } from "#core/evaluate/water-snapshot.ts";
import { emptyWater, type WaterState, writeWater } from "#core/evaluate/water-state.ts";
import { isGood } from "#core/quality/flag.ts";
import { QUARTER_HOUR } from "#core/quality/rollup.ts";
import { HOUR, type Instant } from "#core/time/instant.ts";
import type { Checkpoint, Current } from "#store/port.ts";

interface Snapshot {
  /** Holds every reading before this instant and none at or after it. */
  readonly at: Instant;
  readonly water: WaterSnapshot;
}
/** Hours of snapshots kept in memory: what arrives later than that is judged again from the day's checkpoint. */
export const SNAPSHOT_SPAN = 3 * HOUR;
/** Those of the last quarter of an hour are all kept, before that one an hour: what comes so late folds up to an hour more. */
const DENSE = QUARTER_HOUR;
const SPARSE = HOUR;

/** A state that moves along event time, taking snapshots and checkpoints as it passes their instants. */
export interface Walker {
  readonly context: FoldContext;
  water: WaterState;
  out: Outputs;
  snapshots: Snapshot[];
  checkpoints: Checkpoint[];
  nextSnapshot: Instant;
  nextCheckpoint: Instant;
}

export function createWalker(settings: SystemSettings, water: WaterState = emptyWater()): Walker {
  const walker: Walker = {
    context: createFoldContext(settings),
    water,
    out: emptyOutputs(),
    snapshots: [],
    checkpoints: [],
    nextSnapshot: Number.NEGATIVE_INFINITY,
    nextCheckpoint: Number.NEGATIVE_INFINITY,
  };
  if (water.frontier.at >= 0) passBoundaries(walker, water.frontier.at, false);
  return walker;
}

/**
 * Fold one reading; false where it does not sort behind what was folded (out of order, or a replicate of the same moment): nothing was
 * done. `fresh` keeps snapshots on the way; judging long history again does not need them.
 */
export function walk(walker: Walker, input: Input, fresh: boolean): boolean {
  const stream = walker.context.settings.byId.get(input.stream);
  if (!stream) return true;
  if (isTimeDoubtful(input)) {
    flagDoubtfulTime(input, stream, walker.out);
    return true;
  }
  if (!isInOrder(walker.water, stream, input.at)) return false;
  if (input.at >= walker.nextSnapshot) passBoundaries(walker, input.at, fresh);
  foldReading(walker.context, walker.water, input, walker.out);
  return true;
}

function passBoundaries(walker: Walker, at: Instant, fresh: boolean): void {
  const started = walker.water.frontier.at >= 0;
  const quarter = at - (at % QUARTER_HOUR);
  if (fresh) {
    // Before its first reading too: what comes out of order in a system's first minutes is no late data.
    walker.snapshots = thinSnapshots(walker.snapshots, quarter);
    walker.snapshots.push({ at: quarter, water: snapshotOf(walker.water) });
  } else walker.snapshots = [];
  walker.nextSnapshot = quarter + QUARTER_HOUR;
  if (at < walker.nextCheckpoint) return;
  const day = walker.context.dayOf(at);
  if (started && walker.water.frontier.at < day.start)
    walker.checkpoints.push({
      system: walker.context.settings.system.id,
      at: day.start,
      state: writeWater(walker.water),
    });
  walker.nextCheckpoint = day.end;
}

/** Those that are worth their memory, of snapshots that rise in time, when one at `now` joins them. The oldest serves what is `SNAPSHOT_SPAN` late. */
function thinSnapshots(snapshots: readonly Snapshot[], now: Instant): Snapshot[] {
  const kept: Snapshot[] = [];
  for (const [index, snapshot] of snapshots.entries()) {
    const next = snapshots[index + 1]?.at ?? now;
    const before = kept.at(-1);
    if (snapshot.at >= now || next <= now - SNAPSHOT_SPAN) continue;
    if (before && snapshot.at < now - DENSE && next - before.at <= SPARSE) continue;
    kept.push(snapshot);
  }
  return kept;
}

/** Go back to the newest snapshot at or before an instant; undefined where none is kept (then the day's checkpoint serves). */
export function restoreSnapshotBefore(walker: Walker, to: Instant): Instant | undefined {
  const index = walker.snapshots.findLastIndex((kept) => kept.at <= to);
  const snapshot = walker.snapshots[index];
  if (!snapshot) return undefined;
  walker.water = restoreSnapshot(snapshot.water);
  walker.snapshots = walker.snapshots.slice(0, index + 1);
  walker.nextSnapshot = snapshot.at + QUARTER_HOUR;
  walker.nextCheckpoint = walker.context.dayOf(snapshot.at).end;
  walker.out = outputsBefore(walker.out, snapshot.at);
  walker.checkpoints = walker.checkpoints.filter((kept) => kept.at <= snapshot.at);
  return snapshot.at;
}

/** Outputs of readings before an instant: what came after it will be produced again. */
function outputsBefore(out: Outputs, at: Instant): Outputs {
  return {
    flags: out.flags.filter((row) => row.at < at),
    derived: out.derived.filter((row) => row.at < at),
    rollups: out.rollups.filter((row) => row.start < at),
    findings: new Map([...out.findings].filter(([, finding]) => finding.raised < at)),
    touched: out.touched,
    recent: [],
  };
}

/** Take what was produced, with what is still open; the walker starts collecting again. */
export function takeOutputs(walker: Walker): { out: Outputs; checkpoints: readonly Checkpoint[] } {
  const { out, checkpoints } = walker;
  addOpenOutputs(walker.context, walker.water, out);
  walker.out = emptyOutputs();
  walker.checkpoints = [];
  return { out, checkpoints };
}

const SHOWN_RATE = 2 * HOUR;

/**
 * The row that every page reads: the newest reading of a stream and its verdict. Null before its first reading. Where another band has come
 * into force since (up to `now`), the value that is current is compared with that one at once.
 */
export function currentOf(
  walker: Walker,
  receiving: ReceiveState,
  stream: StreamSettings,
  now: Instant,
): Current | null {
  const state = walker.water.streams.get(stream.id);
  if (!state || state.at < 0) return null;
  const residual = slopePerHour(state.t, state.v, SHOWN_RATE, state.head);
  const plan =
    stream.plans.length > 0 ? (planned(stream, state.at) - planned(stream, state.at - SHOWN_RATE)) / 2 : 0;
  const silenceOf =
    stream.silenceMs ?? (stream.origin === "derived" && stream.interval ? 3 * stream.interval : null);
  const turned = bandInForce(stream, now) !== bandInForce(stream, state.at);
  const band = edgesFor(stream, turned ? now : state.at, walker.context.monthsOf);
  const anew = turned && isGood(state.flag) && stream.spec.kind === "number";
  return {
    stream: stream.id,
    at: state.at,
    value: state.value,
    flag: state.flag,
    reasons: state.reasons,
    low: state.lower,
    high: state.upper,
    deviation: anew ? band && deviationOf(state.value, state.mark, band) : state.deviation,
    band,
    rate: residual === null ? null : residual + plan,
    received: state.received,
    silentAt: receiving.due.get(stream.id) ?? (silenceOf === null ? null : state.received + silenceOf),
  };
}
