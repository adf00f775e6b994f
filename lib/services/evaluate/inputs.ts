import type { Input } from "#core/evaluate/outputs.ts";
import type { StreamSettings, SystemSettings } from "#core/evaluate/settings.ts";
import { aheadBy, type ClockBook } from "#core/gateway/clock-book.ts";
import type { Instant } from "#core/time/instant.ts";
import type { BenchResult, Source, Store, StoredReading } from "#store/port.ts";
import { firstReadingPlaced, readingsPlaced } from "../gateway/placed-readings.ts";

/** Old by nature: its readings are history although they arrive late. */
export const isHistory = (source: Source | undefined): boolean =>
  source?.kind === "history" || source?.kind === "import";

/** Who sent it, and what is known of their clocks. */
export interface Senders {
  readonly sources: ReadonlyMap<number, Source>;
  readonly clocks: ClockBook;
}

/** At the time it stands for: its stamp, less what a person said that the sender's clock was ahead. */
export function inputOfReading(reading: StoredReading, { sources, clocks }: Senders): Input {
  const ahead = clocks.size === 0 ? 0 : aheadBy(clocks, reading);
  return {
    stream: reading.stream,
    at: reading.at - (ahead ?? 0),
    value: reading.value,
    received: reading.received,
    mark: reading.mark,
    recorded: isHistory(sources.get(reading.source)),
    sender: senderOf(sources.get(reading.source)),
    held: ahead === null,
  };
}

const senderOf = (source: Source | undefined): string | undefined =>
  source?.kind === "gateway" ? source.code : undefined;

/** A result that its tester doubts is shown and kept, and no evidence: the test is made again before anybody is called. */
const markOfBench = ({ qualifier, answer }: BenchResult): Input["mark"] => {
  if (answer === "again") return "not_sure";
  return qualifier === "<" ? "below" : qualifier === ">" ? "above" : null;
};

export const inputOfBench = (result: BenchResult): Input => ({
  stream: result.stream,
  at: result.at,
  value: result.value,
  received: result.received,
  mark: markOfBench(result),
  recorded: false,
});

/** The one order in which readings are judged: time, then rank (inputs before what is computed from them), then stream. */
export function sortInputs(inputs: Input[], byId: ReadonlyMap<number, StreamSettings>): Input[] {
  const rank = (input: Input) => byId.get(input.stream)?.rank ?? Number.MAX_SAFE_INTEGER;
  return inputs.sort((a, b) => a.at - b.at || rank(a) - rank(b) || a.stream - b.stream);
}

/** Everything measured in a system in [from, to), probes and bench alike, as known up to a receive instant. */
export async function inputsBetween(
  store: Store,
  settings: SystemSettings,
  senders: Senders,
  from: Instant,
  to: Instant,
  receivedUpTo: Instant,
): Promise<Input[]> {
  const measured = settings.streams.filter((stream) => stream.origin !== "derived");
  const probes = measured.filter((stream) => stream.origin !== "bench").map((stream) => stream.id);
  const bench = measured.filter((stream) => stream.origin === "bench").map((stream) => stream.id);
  const readings = await readingsPlaced(store, senders.clocks, probes, { from, to }, receivedUpTo);
  const results = bench.length > 0 ? await store.benchBetween(bench, from, to, receivedUpTo) : [];
  const inputs = readings.map((reading) => inputOfReading(reading, senders));
  for (const result of results) inputs.push(inputOfBench(result));
  return sortInputs(inputs, settings.byId);
}

/** The first instant at or after `from` at which anything was measured, or one before it where stamps are ahead; null where nothing was. */
export async function firstInputAt(
  store: Store,
  settings: SystemSettings,
  clocks: ClockBook,
  from: Instant,
): Promise<Instant | null> {
  const bench = settings.streams.filter((stream) => stream.origin === "bench").map((stream) => stream.id);
  const probes = settings.streams
    .filter((stream) => stream.origin !== "bench" && stream.origin !== "derived")
    .map((stream) => stream.id);
  const reading = probes.length > 0 ? await firstReadingPlaced(store, clocks, probes, from) : null;
  const results =
    bench.length > 0
      ? await store.benchBetween(bench, from, reading ?? Number.MAX_SAFE_INTEGER, Number.MAX_SAFE_INTEGER)
      : [];
  const result = results[0]?.at ?? null;
  if (reading === null || result === null) return reading ?? result;
  return Math.min(reading, result);
}
