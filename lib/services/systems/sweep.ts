import { type Instant, SECOND } from "#core/time/instant.ts";
import { lastLocalHour } from "#core/time/site-time.ts";
import type { Store } from "#store/port.ts";
import type { Sweep, SweepReader } from "../deps.ts";
import { rollupsCovering } from "../rollup-spans.ts";
import type { IndexedSetUp } from "../set-up.ts";

/** Where the night began: readings since this local hour are tonight's sweep. */
export const NIGHT_FROM = 18;

/** Pages ask again within moments and live updates ten times a second; the current value widens the sweep in between. */
const OLDEST = 10 * SECOND;

const NOTHING: Sweep = { low: null, high: null, n: 0 };
const least = (a: number | null, b: number | null) => (a === null || b === null ? (a ?? b) : Math.min(a, b));
const most = (a: number | null, b: number | null) => (a === null || b === null ? (a ?? b) : Math.max(a, b));

/** The sweep with the value of this moment in it. */
export function widened(sweep: Sweep | undefined, value: number | null): Sweep | undefined {
  if (!sweep || value === null) return sweep;
  return { ...sweep, low: least(sweep.low, value), high: most(sweep.high, value) };
}

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
          const known = sweeps.get(row.stream) ?? NOTHING;
          sweeps.set(row.stream, {
            low: least(known.low, row.min),
            high: most(known.high, row.max),
            n: known.n + row.n,
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
