import type { Instant } from "../time/instant.ts";

/** A reading that carries its sender's number. */
export interface Numbered {
  readonly stream: number;
  readonly at: Instant;
  readonly sequence: number;
}
/** Numbers that never arrived: those between `after` and `before`, neither of which is missing. */
export interface SequenceGap {
  readonly after: number;
  readonly before: number;
  readonly missing: number;
  /** Times of the readings on either side. */
  readonly from: Instant;
  readonly to: Instant;
  /** The stream they belong to; null where the sender counts over all its streams. */
  readonly stream: number | null;
}
export interface SequenceAccount {
  /** Whether the sender counts each stream for itself or all of them together. */
  readonly counts: "each stream" | "all streams";
  readonly numbered: number;
  readonly missing: number;
  /** Times the count began again from below. */
  readonly restarts: number;
  /** In the order of their times. */
  readonly gaps: readonly SequenceGap[];
}

/** A number this much below the highest so far is a count that began again; less is a reading that came out of order. */
const RESTART = 100;

/**
 * Which numbers of one sender are missing between the first and the last it sent. Nothing is said about what came before or after.
 * A sender counts its streams together unless two streams carry the same number between two restarts; a number sent late fills its gap.
 * `readings` of one source in any order; sequences whole and from 0. Common practice, no source.
 */
export function sequenceAccount(readings: readonly Numbered[]): SequenceAccount {
  const byStream = grouped(readings);
  const together = epochsOf(readings);
  const isShared = byStream.size === 1 || !together.some(repeatsANumber);
  const counted = isShared
    ? together.map((epoch) => ({ epoch, stream: byStream.size === 1 ? (readings[0]?.stream ?? null) : null }))
    : [...byStream].flatMap(([stream, own]) => epochsOf(own).map((epoch) => ({ epoch, stream })));
  const groups = isShared ? 1 : byStream.size;
  const gaps = counted
    .flatMap(({ epoch, stream }) => gapsOf(epoch, stream))
    .sort((a, b) => a.from - b.from || a.after - b.after);
  return {
    counts: isShared && byStream.size > 1 ? "all streams" : "each stream",
    numbered: readings.length,
    missing: gaps.reduce((sum, gap) => sum + gap.missing, 0),
    restarts: Math.max(0, counted.length - groups),
    gaps,
  };
}

function grouped(readings: readonly Numbered[]): Map<number, Numbered[]> {
  const groups = new Map<number, Numbered[]>();
  for (const one of readings) {
    const group = groups.get(one.stream);
    if (group) group.push(one);
    else groups.set(one.stream, [one]);
  }
  return groups;
}

/** Readings between two restarts of the count, each in the order of time. */
function epochsOf(readings: readonly Numbered[]): Numbered[][] {
  const epochs: Numbered[][] = [];
  let epoch: Numbered[] = [];
  let highest = -1;
  for (const one of [...readings].sort((a, b) => a.at - b.at || a.sequence - b.sequence)) {
    if (one.sequence < highest - RESTART || (one.sequence === 0 && highest > 0)) {
      epochs.push(epoch);
      epoch = [];
      highest = -1;
    }
    epoch.push(one);
    highest = Math.max(highest, one.sequence);
  }
  if (epoch.length > 0) epochs.push(epoch);
  return epochs;
}

/** True where two streams carry the same number: they are counted each for itself. */
function repeatsANumber(epoch: readonly Numbered[]): boolean {
  const seen = new Map<number, number>();
  for (const { sequence, stream } of epoch) {
    const other = seen.get(sequence);
    if (other !== undefined && other !== stream) return true;
    seen.set(sequence, stream);
  }
  return false;
}

function gapsOf(epoch: readonly Numbered[], stream: number | null): SequenceGap[] {
  const sorted = [...epoch].sort((a, b) => a.sequence - b.sequence);
  const gaps: SequenceGap[] = [];
  for (let index = 1; index < sorted.length; index += 1) {
    const [before, after] = [sorted[index] as Numbered, sorted[index - 1] as Numbered];
    const missing = before.sequence - after.sequence - 1;
    if (missing < 1) continue;
    gaps.push({
      after: after.sequence,
      before: before.sequence,
      missing,
      from: Math.min(after.at, before.at),
      to: Math.max(after.at, before.at),
      stream,
    });
  }
  return gaps;
}
