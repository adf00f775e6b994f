/** The sixteen days before at five minutes and the earlier year hourly: imports that come in behind, found late, calling nobody. */
import { DAY, type Instant } from "#core/time/index.ts";
import type { NewReading, Store } from "#store/port.ts";
import type { Scenario } from "../scenario/load.ts";
import { type Cadence, readingsBetween } from "../scenario/readings.ts";

export interface HistoryToLoad {
  readonly store: Store;
  readonly scenario: Scenario;
  readonly anchor: Instant;
  readonly streams: readonly number[];
  readonly clock: () => Instant;
  readonly progress: (share: number) => void;
  readonly stopped: () => boolean;
  /** Waits between two chunks, so that readings arriving meanwhile get the store. */
  readonly breathe: () => Promise<void>;
}

const FIVE_MINUTE_DAYS = 16;
const HOURLY_DAYS = 349;
const CHUNK = 2_000;

export const IMPORT_SOURCE = "demo-history";

/** Loads the newest part first, so that the last month is whole soonest. Safe to repeat. Gives the number of readings. */
export async function loadHistory(load: HistoryToLoad): Promise<number> {
  const { store, anchor } = load;
  const source = await store.ensureSource(IMPORT_SOURCE, "import");
  const middle = anchor - FIVE_MINUTE_DAYS * DAY;
  const start = middle - HOURLY_DAYS * DAY;
  const parts: [Instant, Instant, Cadence, number, number][] = [
    [middle, anchor, "five-minute", 0, 0.36],
    [start, middle, "hourly", 0.36, 1],
  ];
  let count = 0;
  for (const [from, to, cadence, base, upTo] of parts) {
    let chunk: NewReading[] = [];
    for (const reading of readingsBetween(load.scenario, anchor, from, to, cadence)) {
      chunk.push({
        stream: load.streams[reading.stream] as number,
        at: reading.at,
        value: reading.value,
        source: source.id,
        sequence: null,
        mark: null,
      });
      if (chunk.length < CHUNK) continue;
      count += await append(store, chunk, load.clock());
      chunk = [];
      load.progress(base + ((upTo - base) * (reading.at - from)) / (to - from));
      if (load.stopped()) return count;
      await load.breathe();
    }
    count += await append(store, chunk, load.clock());
  }
  load.progress(1);
  return count;
}

async function append(store: Store, readings: readonly NewReading[], now: Instant): Promise<number> {
  if (readings.length > 0) await store.append({ now, readings, rejected: [], unclaimed: [] });
  return readings.length;
}
