import { type Instant, SECOND } from "../core/time/instant.ts";
import { lastLocalHour } from "../core/time/site-time.ts";
import type { Store } from "../store/port.ts";
import { rollupsCovering } from "./rollup-spans.ts";
import type { IndexedSetUp } from "./set-up.ts";

/** Where the night began: readings since this local hour are tonight's sweep. */
export const NIGHT_FROM = 18;

export interface Sweep {
  readonly low: number;
  readonly high: number;
}
export interface SweepReader {
  /** Lowest and highest good value of each stream since 18:00 site time. */
  read(index: IndexedSetUp, now: Instant): Promise<ReadonlyMap<number, Sweep>>;
}

/** Pages ask again within moments and live updates ten times a second; the current value widens the sweep in between. */
const OLDEST = 10 * SECOND;

export function createSweepReader(store: Store): SweepReader {
  let kept:
    | { index: IndexedSetUp; mark: number; from: string; readAt: Instant; sweeps: ReadonlyMap<number, Sweep> }
    | undefined;

  return {
    async read(index, now) {
      const mark = await store.changeMark();
      const byZone = streamsByZone(index);
      const starts = [...byZone].map(([zone, streams]) => ({
        streams,
        from: lastLocalHour(now, zone, NIGHT_FROM),
      }));
      const from = starts.map((start) => start.from).join();
      const age = kept ? now - kept.readAt : 0;
      const isFresh = kept && (kept.mark === mark || (kept.index === index && age >= 0 && age < OLDEST));
      if (kept && isFresh && kept.from === from) return kept.sweeps;
      const sweeps = new Map<number, Sweep>();
      for (const start of starts) {
        for (const row of await rollupsCovering(store, start.streams, start.from, now, true)) {
          if (row.min === null || row.max === null) continue;
          const known = sweeps.get(row.stream);
          sweeps.set(row.stream, {
            low: known ? Math.min(known.low, row.min) : row.min,
            high: known ? Math.max(known.high, row.max) : row.max,
          });
        }
      }
      kept = { index, mark, from, readAt: now, sweeps };
      return sweeps;
    },
  };
}

function streamsByZone(index: IndexedSetUp): Map<string, number[]> {
  const zones = new Map<string, number[]>();
  for (const { site, streams } of index.systems) {
    const ids = zones.get(site.zone) ?? [];
    for (const stream of streams) if (stream.origin !== "bench") ids.push(stream.id);
    zones.set(site.zone, ids);
  }
  return zones;
}
