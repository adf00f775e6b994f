import { QUARTER_HOUR, THREE_HOURS } from "#core/quality/rollup.ts";
import type { Instant } from "#core/time/instant.ts";
import type { RollupRow, Store } from "#store/port.ts";

const ceilTo = (at: Instant, width: number) => Math.ceil(at / width) * width;
const floorTo = (at: Instant, width: number) => Math.floor(at / width) * width;

/**
 * Rollups that cover [from, to) without overlap, in as few rows as may be: 3 hour rows inside, 15 minute rows at the ends. `from` goes
 * down to its quarter hour and `to` up to the end of its own. `openEnd`: nothing later than `to` is stored yet, so the 3 hour row that
 * holds `to` can stand for its end.
 */
export async function rollupsCovering(
  store: Store,
  streams: readonly number[],
  from: Instant,
  to: Instant,
  openEnd: boolean,
): Promise<readonly RollupRow[]> {
  if (streams.length === 0 || from >= to) return [];
  const start = floorTo(from, QUARTER_HOUR);
  const end = ceilTo(to, QUARTER_HOUR);
  const first = ceilTo(start, THREE_HOURS);
  const last = openEnd ? ceilTo(end, THREE_HOURS) : floorTo(end, THREE_HOURS);
  const read = (a: Instant, b: Instant, width: number) =>
    a < b ? store.readRollups({ streams, from: a, to: b, width }) : Promise.resolve([]);
  if (first >= last) return read(start, end, QUARTER_HOUR);
  const [head, middle, tail] = await Promise.all([
    read(start, first, QUARTER_HOUR),
    read(first, last, THREE_HOURS),
    read(last, end, QUARTER_HOUR),
  ]);
  return [...head, ...middle, ...tail];
}
