/**
 * Where a movement began or ended in the readings that show it: the one break at which a level and a straight line from it fit them best (least
 * squares). One of the simplest change points (broken stick); our own use of it.
 */
import type { Instant } from "../time/instant.ts";

const LEAST = 3;

/** Squared misses of a level up to `k` and of the line that leaves it there, over indices [from, to] in the order of `step`. */
function missOf(
  t: readonly number[],
  v: readonly number[],
  k: number,
  { first, last, step }: { readonly first: number; readonly last: number; readonly step: 1 | -1 },
): number {
  let [n, sum] = [0, 0];
  for (let i = first; i !== k; i += step) {
    sum += v[i] as number;
    n++;
  }
  const level = sum / n;
  const start = t[k - step] as number;
  let [above, below] = [0, 0];
  for (let i = k; i !== last + step; i += step) {
    const dt = (t[i] as number) - start;
    above += dt * ((v[i] as number) - level);
    below += dt * dt;
  }
  const slope = below === 0 ? 0 : above / below;
  let miss = 0;
  for (let i = first; i !== last + step; i += step) {
    const isLine = step > 0 ? i >= k : i <= k;
    const expected = isLine ? level + slope * ((t[i] as number) - start) : level;
    miss += ((v[i] as number) - expected) ** 2;
  }
  return miss;
}

/**
 * The instant of the last reading on the level before the line that leads to the newest reading ("began"), or of the first one on the level that the
 * line led to ("ended"), among the readings from `head` on that are not older than `from`. Null with fewer than three readings on either side.
 */
export function turnOf(
  which: "began" | "ended",
  t: readonly number[],
  v: readonly number[],
  head: number,
  from: Instant,
): Instant | null {
  let lowest = head;
  while (lowest < t.length && (t[lowest] as number) < from) lowest++;
  const [low, high] = [lowest, t.length - 1];
  if (high - low + 1 < 2 * LEAST) return null;
  const step = which === "began" ? 1 : -1;
  const [first, last] = step > 0 ? [low, high] : [high, low];
  let best: number | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (let k = first + step * LEAST; step * (last - k) >= LEAST - 1; k += step) {
    const miss = missOf(t, v, k, { first, last, step });
    if (miss >= least) continue;
    least = miss;
    best = k;
  }
  return best === null ? null : (t[best - step] as number);
}
