/** The fourteen days (and today so far), accepted in time order under the scenario's own clock, as if they arrived then. */
import { DAY, type Instant, MINUTE } from "#core/time/index.ts";
import { recordBench } from "#services/bench/record-bench.ts";
import type { WriteDeps } from "#services/deps.ts";
import type { NewReading, Store } from "#store/port.ts";
import type { Scenario } from "../scenario/load.ts";
import { readingsBetween, type ScenarioReading } from "../scenario/readings.ts";
import { benchBetween, eventsBetween, type ScenarioBenchTest } from "../scenario/records.ts";
import { calibrationEntry, roundEntries } from "./calibration-rounds.ts";
import { acknowledgementEntry, type Entry, logEntries } from "./day-records.ts";
import { staff } from "./staff.ts";

export interface DaysToLoad {
  readonly store: Store;
  readonly scenario: Scenario;
  readonly anchor: Instant;
  readonly from: Instant;
  readonly to: Instant;
  /** Store ids in the order of streams.json. */
  readonly streams: readonly number[];
  readonly writing: Omit<WriteDeps, "clock" | "store">;
  readonly source: number;
  /** Share done, 0 to 1. */
  readonly progress: (share: number) => void;
  readonly stopped: () => boolean;
}

/** A person types a result in some minutes after the water was taken. */
const TYPED_AFTER = 6 * MINUTE;

/**
 * Loads [from, to): one commit a minute; bench tests, log entries and acknowledgements between them at the minute they were typed. Safe to repeat from any minute: what is
 * stored already is ignored. Gives the number of readings.
 */
export async function loadDays(load: DaysToLoad): Promise<number> {
  const { store, scenario, anchor, from, to, streams } = load;
  const entries = [...benchEntries(load), ...eventEntries(load), ...roundEntries(load, to)].sort(
    (a, b) => a.at - b.at,
  );
  const held: ScenarioReading[] = [];
  let minute: ScenarioReading[] = [];
  let end = from + MINUTE;
  let count = 0;
  const flush = async () => {
    const due = held.filter((reading) => reading.deliveredAt < end);
    if (due.length > 0) held.splice(0, held.length, ...held.filter((reading) => reading.deliveredAt >= end));
    count += await append(store, [...minute, ...due], streams, load.source, end);
    minute = [];
    while (entries[0] && entries[0].at <= end) await (entries.shift() as Entry).write();
    end += MINUTE;
  };
  for (const reading of readingsBetween(scenario, anchor, from, to, "as-sampled")) {
    while (reading.at >= end) {
      await flush();
      if (load.stopped()) return count;
      if ((end - from) % DAY === 0 || (end - from) % (DAY / 4) === 0)
        load.progress((end - from) / (to - from));
    }
    if (reading.deliveredAt > reading.at + MINUTE) held.push(reading);
    else minute.push(reading);
  }
  await flush();
  while (held.length > 0 && end <= to) await flush();
  for (const entry of entries) if (entry.at <= to + DAY) await entry.write();
  load.progress(1);
  return count;
}

async function append(
  store: Store,
  readings: readonly ScenarioReading[],
  streams: readonly number[],
  source: number,
  now: Instant,
): Promise<number> {
  if (readings.length === 0) return 0;
  const rows = readings.map(
    (reading): NewReading => ({
      stream: streams[reading.stream] as number,
      at: reading.at,
      value: reading.value,
      source,
      sequence: null,
      mark: null,
    }),
  );
  await store.append({ now, readings: rows, rejected: [], unclaimed: [] });
  return readings.length;
}

function benchEntries({ store, scenario, anchor, from, to, writing }: DaysToLoad): Entry[] {
  const entries: Entry[] = [];
  for (const test of benchBetween(scenario, anchor, from, to)) {
    const typedAt = test.at + TYPED_AFTER;
    entries.push({
      at: typedAt,
      write: async () => {
        await record(store, writing, test, typedAt, results(test));
      },
    });
    for (const result of test.results) {
      const { correction } = result;
      if (!correction) continue;
      entries.push({
        at: correction.at,
        write: async () => {
          const supersedes = await idInForce(store, test, result.quantity);
          const { value, unit, reason } = correction;
          await record(store, writing, test, correction.at, [
            { quantity: result.quantity, value, unit, method: result.method, supersedes, reason },
          ]);
        },
      });
    }
  }
  return entries;
}

function eventEntries(load: DaysToLoad): Entry[] {
  const { store, scenario, anchor, from, to, writing, stopped } = load;
  return eventsBetween(scenario, anchor, from, to).flatMap((event) => {
    if (event.kind === "acknowledge") return [acknowledgementEntry(store, writing, event, stopped)];
    if (event.kind === "calibration") return calibrationEntry(load, event, to);
    return logEntries(store, writing, event, to);
  });
}

/** The id of the result that is corrected. */
async function idInForce(store: Store, test: ScenarioBenchTest, quantity: string): Promise<string> {
  const { streams, systems } = await store.readSetUp();
  const system = systems.find((each) => each.code === test.system)?.id;
  const stream = streams.find(
    (each) =>
      each.system === system &&
      each.pointCode === test.point &&
      each.quantity === quantity &&
      each.origin === "bench",
  );
  const found = stream
    ? await store.benchBetween([stream.id], test.at, test.at + 1, Number.MAX_SAFE_INTEGER)
    : [];
  const id = found[0]?.id;
  if (id === undefined) throw new Error(`no ${quantity} of ${test.system} to correct`);
  return id;
}

type SentResult = Record<string, string | number>;

const results = (test: ScenarioBenchTest): SentResult[] =>
  test.results.map(({ quantity, value, unit, method, qualifier, doubt }) => ({
    quantity,
    value,
    unit,
    method,
    ...(qualifier && { qualifier }),
    ...(doubt && { answer: "again", asked: doubt }),
  }));

function record(
  store: Store,
  writing: DaysToLoad["writing"],
  test: ScenarioBenchTest,
  typedAt: Instant,
  sent: readonly SentResult[],
) {
  const body = {
    clientId: `demo-${test.system}-${test.point}-${test.at}-${typedAt}-${test.by}`.replace(
      /[^A-Za-z0-9-]/g,
      "-",
    ),
    system: test.system,
    point: test.point,
    sampledAt: new Date(test.at).toISOString(),
    results: sent,
    ...(test.note && { note: test.note }),
  };
  return recordBench({ ...writing, store, clock: () => typedAt }, staff(test.by), body);
}
