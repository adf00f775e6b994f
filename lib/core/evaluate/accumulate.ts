import { ROLLUP_WIDTHS, type RollupRow } from "../quality/rollup.ts";
import type { Instant } from "../time/instant.ts";
import type { Accumulator, StreamState } from "./water-state.ts";

const fresh = (start: Instant): Accumulator => ({
  start,
  n: 0,
  good: 0,
  min: Number.POSITIVE_INFINITY,
  max: Number.NEGATIVE_INFINITY,
  sum: 0,
  first: 0,
  last: 0,
});

export const rollupRow = (stream: number, width: number, a: Accumulator): RollupRow => ({
  stream,
  width,
  start: a.start,
  n: a.n,
  good: a.good,
  min: a.good ? a.min : null,
  max: a.good ? a.max : null,
  sum: a.sum,
  first: a.good ? a.first : null,
  last: a.good ? a.last : null,
});

/** Count a reading into the stream's three open rollups; the ones it completes are handed out. `dayStart` is local midnight. */
export function accumulate(
  stream: number,
  state: StreamState,
  at: Instant,
  value: number,
  good: boolean,
  dayStart: Instant,
  completed: RollupRow[],
): void {
  for (let i = 0; i < 3; i++) {
    const width = ROLLUP_WIDTHS[i] as number;
    const start = i === 2 ? dayStart : at - (((at % width) + width) % width);
    let open = state.rollups[i] ?? null;
    if (!open || open.start !== start) {
      if (open) completed.push(rollupRow(stream, width, open));
      open = fresh(start);
      state.rollups[i] = open;
    }
    open.n++;
    if (!good) continue;
    // Not by the infinities of a fresh one: a checkpoint's JSON has none.
    if (open.good === 0) {
      open.first = value;
      open.min = value;
      open.max = value;
    }
    open.good++;
    open.sum += value;
    open.last = value;
    if (value < open.min) open.min = value;
    if (value > open.max) open.max = value;
  }
}
