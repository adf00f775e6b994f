/** What has to be judged again at the end of a pass: from when, and which streams fresh readings came for. */
import type { SystemSettings } from "#core/evaluate/settings.ts";
import type { Instant } from "#core/time/instant.ts";
import type { JournalEntry } from "#store/port.ts";

interface OutOfOrder {
  from: Instant;
  readonly streams: Set<number>;
}
/** By system. */
export type Disorder = Map<string, OutOfOrder>;

export function mark(disorder: Disorder, system: string, from: Instant, stream: number): void {
  const marked = disorder.get(system);
  if (!marked) disorder.set(system, { from, streams: new Set([stream]) });
  else {
    marked.from = Math.min(marked.from, from);
    marked.streams.add(stream);
  }
}

/** A set-up entry names what to judge again as "system:<id>@<from>"; it moves no alarm by itself. */
export function markSetUp(entry: JournalEntry, disorder: Disorder): void {
  const named = /^system:(.+)@(-?\d+)$/.exec(entry.ref ?? "");
  if (!named) return;
  const [, system, from] = named as unknown as [string, string, string];
  const marked = disorder.get(system);
  if (marked) marked.from = Math.min(marked.from, Number(from));
  else disorder.set(system, { from: Number(from), streams: new Set() });
}

/** A calibration entry names what to judge again as "stream:<id>@<from>": its findings may end, and their alarms with them. */
export function markCalibration(
  entry: JournalEntry,
  systemOf: ReadonlyMap<number, string>,
  disorder: Disorder,
): void {
  const named = /^stream:(\d+)@(-?\d+)$/.exec(entry.ref ?? "");
  if (!named) return;
  const stream = Number(named[1]);
  const system = systemOf.get(stream);
  if (system !== undefined) mark(disorder, system, Number(named[2]), stream);
}

/** The streams and what is computed from them. */
export function withDerived(settings: SystemSettings, streams: ReadonlySet<number>): Set<number> {
  const all = new Set(streams);
  for (const id of streams)
    for (const { target } of settings.byId.get(id)?.derivations ?? []) all.add(target);
  return all;
}
