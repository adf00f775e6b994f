/** What has to be judged again at the end of a pass: from when, and which streams fresh readings came for. */
import type { SystemSettings } from "#core/evaluate/settings.ts";
import type { Instant } from "#core/time/instant.ts";
import type { JournalEntry } from "#store/port.ts";

interface RejudgeMark {
  from: Instant;
  readonly streams: Set<number>;
}
/** By system. */
export type RejudgeMarks = Map<string, RejudgeMark>;

export function markRejudge(marks: RejudgeMarks, system: string, from: Instant, stream: number): void {
  const marked = marks.get(system);
  if (!marked) marks.set(system, { from, streams: new Set([stream]) });
  else {
    marked.from = Math.min(marked.from, from);
    marked.streams.add(stream);
  }
}

/** A set-up entry names a system to judge again; it moves no alarm by itself. */
export function markRejudgeOfSetUp({ rejudge }: JournalEntry, marks: RejudgeMarks): void {
  if (rejudge === null || !("system" in rejudge)) return;
  const { system, from } = rejudge;
  const marked = marks.get(system);
  if (marked) marked.from = Math.min(marked.from, from);
  else marks.set(system, { from, streams: new Set() });
}

/** A calibration entry names a stream to judge again: its findings may end, and their alarms with them. */
export function markRejudgeOfCalibration(
  { rejudge }: JournalEntry,
  systemOf: ReadonlyMap<number, string>,
  marks: RejudgeMarks,
): void {
  if (rejudge === null || !("stream" in rejudge)) return;
  const system = systemOf.get(rejudge.stream);
  if (system !== undefined) markRejudge(marks, system, rejudge.from, rejudge.stream);
}

/** The streams and what is computed from them. */
export function withDerived(settings: SystemSettings, streams: ReadonlySet<number>): Set<number> {
  const all = new Set(streams);
  for (const id of streams)
    for (const { target } of settings.byId.get(id)?.derivations ?? []) all.add(target);
  return all;
}
