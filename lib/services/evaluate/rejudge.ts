/**
 * Judging again from an instant to now, in slices short enough that fresh readings are never kept waiting. It starts at the
 * checkpoint before the instant and ends at the live frontier, or as soon as a stored checkpoint behind the late data is met
 * unchanged: from there on everything stored is still right.
 */
import type { SystemSettings } from "#core/evaluate/settings.ts";
import { readWater, writeWater } from "#core/evaluate/water-state.ts";
import { THREE_HOURS } from "#core/quality/rollup.ts";
import { DAY, type Instant } from "#core/time/instant.ts";
import type { Store } from "#store/port.ts";
import { firstInputAt, inputsBetween, type Senders } from "./inputs.ts";
import { addOutputs, emptyPatch, type PatchBuilder } from "./patch.ts";
import { createWalker, SNAPSHOT_SPAN, takeOutputs, type Walker, walk } from "./walker.ts";

export interface Rejudgement {
  readonly system: string;
  /** Judged again from here. */
  from: Instant;
  /** Nothing later than this is new: past it a checkpoint met unchanged ends the work. */
  lastLateAt: Instant;
  walker: Walker | null;
  /** Everything before this is judged again. */
  position: Instant;
  /** Where the work began at its earliest; infinite before its first slice. */
  startedAt: Instant;
}

export const startRejudgement = (system: string, from: Instant, lastLateAt: Instant): Rejudgement => ({
  system,
  from,
  lastLateAt,
  walker: null,
  position: from,
  startedAt: Number.POSITIVE_INFINITY,
});

/** The time that is judged again and right: empty before the first slice. */
export const rejudgedRange = (
  rejudgement: Rejudgement,
): { readonly from: Instant; readonly to: Instant } => ({
  from: rejudgement.startedAt,
  to: rejudgement.walker ? rejudgement.position : rejudgement.from,
});

/** More late data: go on where the work stands if it lies ahead, go back to it if it lies behind. */
export function extendRejudgement(rejudgement: Rejudgement, from: Instant, lastLateAt: Instant): void {
  rejudgement.lastLateAt = Math.max(rejudgement.lastLateAt, lastLateAt);
  if (from < rejudgement.position || !rejudgement.walker) rewindRejudgement(rejudgement, from);
}

/** Start again from `to`, or from where the work stands if that is earlier: what was judged again before that is right. */
export function rewindRejudgement(rejudgement: Rejudgement, to: Instant): void {
  // The checkpoint at the position itself may still be the old one: it is written when a reading behind it is folded.
  rejudgement.from = rejudgement.walker
    ? Math.min(to, rejudgement.position - 1)
    : Math.min(to, rejudgement.from);
  rejudgement.walker = null;
}

export interface Slice {
  readonly patch: PatchBuilder;
  readonly done: boolean;
  /** Where the work ended at the live frontier: the state that now is the live one. */
  readonly caughtUp: Walker | null;
  readonly readings: number;
}

/** Event time covered by one slice, at least; slices stop at site midnights so that checkpoints fall between them. */
const SLICE_READINGS = 4_000;

/** Do one slice. `frontier` is how far the live state has come, `receivedUpTo` what it has seen. */
export async function rejudgeSlice(
  store: Store,
  settings: SystemSettings,
  senders: Senders,
  rejudgement: Rejudgement,
  frontier: Instant,
  receivedUpTo: Instant,
  density: number,
): Promise<Slice> {
  const patch = emptyPatch();
  const isFirst = rejudgement.walker === null;
  if (isFirst) await restoreFromCheckpoint(store, settings, senders.clocks, rejudgement);
  const walker = rejudgement.walker as Walker;
  // The one it began at stays; those passed over are written again where readings still cross them.
  const dropFrom = isFirst ? rejudgement.position + 1 : rejudgement.position;
  const start = await firstInputAt(store, settings, senders.clocks, rejudgement.position);
  const streams = settings.streams.map((stream) => stream.id);
  if (start === null || start > frontier) {
    patch.replace.push({ system: rejudgement.system, streams, from: rejudgement.position, to: frontier + 1 });
    patch.dropCheckpoints.push({ system: rejudgement.system, from: dropFrom, to: Number.MAX_SAFE_INTEGER });
    return { patch, done: true, caughtUp: walker, readings: 0 };
  }
  const span = Math.max(DAY / 24, Math.floor(SLICE_READINGS / Math.max(density, 1e-9)));
  const midnight = walker.context.dayOf(start).end;
  const end = Math.min(midnight, start + span, frontier + 1);
  const inputs = await inputsBetween(store, settings, senders, start, end, receivedUpTo);
  // Where it catches up it is the live state next, which has to be able to go back.
  for (const input of inputs) walk(walker, input, input.at > frontier - SNAPSHOT_SPAN);
  const { out, checkpoints } = takeOutputs(walker);
  patch.replace.push({ system: rejudgement.system, streams, from: rejudgement.position, to: end });
  patch.dropCheckpoints.push({ system: rejudgement.system, from: dropFrom, to: end });
  rejudgement.position = end;
  addOutputs(patch, out, checkpoints);
  if (end > frontier) return { patch, done: true, caughtUp: walker, readings: inputs.length };
  // Rollups of three hours (UTC) that lie across a site midnight are half written here: there the work goes on.
  const met =
    end === midnight &&
    end % THREE_HOURS === 0 &&
    end > rejudgement.lastLateAt &&
    (await matchesStoredCheckpoint(store, rejudgement, walker, end));
  return { patch, done: met, caughtUp: null, readings: inputs.length };
}

async function restoreFromCheckpoint(
  store: Store,
  settings: SystemSettings,
  clocks: Senders["clocks"],
  rejudgement: Rejudgement,
): Promise<void> {
  const checkpoint = await store.checkpointAtOrBefore(rejudgement.system, rejudgement.from);
  rejudgement.walker = createWalker(settings, checkpoint ? readWater(checkpoint.state) : undefined);
  rejudgement.position = checkpoint ? checkpoint.at : Number.NEGATIVE_INFINITY;
  if (!Number.isFinite(rejudgement.position))
    rejudgement.position = Math.min(
      rejudgement.from,
      (await firstInputAt(store, settings, clocks, 0)) ?? rejudgement.from,
    );
  rejudgement.startedAt = Math.min(rejudgement.startedAt, rejudgement.position);
}

async function matchesStoredCheckpoint(
  store: Store,
  rejudgement: Rejudgement,
  walker: Walker,
  at: Instant,
): Promise<boolean> {
  const stored = await store.checkpointAtOrBefore(rejudgement.system, at);
  return stored?.at === at && stored.state === writeWater(walker.water);
}
