/**
 * Robust slope of a series over its trailing window, in units an hour: the median of the slopes between pairs of readings, so that an
 * outlier, or a few, do not move it. Few readings: all pairs; many: pairs two thirds of the window apart, at most 21 of them, which know the
 * slope best and in which one step of a coarse digit makes no rate. `t` rising UTC milliseconds, `v` values, both used from index `first` on. Null where fewer than three readings
 * lie in the window or they span less than 80 % of it (a slope from a stub proves nothing; our own rule).
 * Source: Theil 1950; Sen 1968, JASA 63:1379.
 */
import { medianInPlace } from "../statistics/robust.ts";
import { HOUR } from "../time/instant.ts";

const LEAST_READINGS = 3;
const LEAST_SPAN = 0.8;
const ALL_PAIRS_UP_TO = 7;
const MOST_PAIRS = 21;

const slopes = new Float64Array(MOST_PAIRS);

const slopeOf = (t: readonly number[], v: readonly number[], i: number, j: number): number =>
  ((v[j] as number) - (v[i] as number)) / ((t[j] as number) - (t[i] as number));

/** The first index from `first` on whose time is not before `from`; times rise. */
function firstWithin(t: readonly number[], first: number, last: number, from: number): number {
  let [low, high] = [first, last];
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((t[middle] as number) < from) low = middle + 1;
    else high = middle;
  }
  return low;
}

export function slopePerHour(
  t: readonly number[],
  v: readonly number[],
  windowMs: number,
  first = 0,
): number | null {
  const last = t.length - 1;
  if (last < first) return null;
  const now = t[last] as number;
  const start = firstWithin(t, first, last, now - windowMs);
  const n = last - start + 1;
  if (n < LEAST_READINGS || now - (t[start] as number) < LEAST_SPAN * windowMs) return null;
  let pairs = 0;
  if (n <= ALL_PAIRS_UP_TO) {
    for (let j = start + 1; j <= last; j++)
      for (let i = start; i < j; i++) slopes[pairs++] = slopeOf(t, v, i, j);
  } else {
    const lag = Math.floor((2 * n) / 3);
    const step = Math.max(1, Math.ceil((n - lag) / MOST_PAIRS));
    for (let i = start; i + lag <= last; i += step) slopes[pairs++] = slopeOf(t, v, i, i + lag);
  }
  return medianInPlace(slopes, pairs) * HOUR;
}
