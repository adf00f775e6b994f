import { median } from "../statistics/robust.ts";
import { DAY, type Instant } from "../time/instant.ts";

const LEAST = 4;

/**
 * How fast a probe leaves the bench: median of the slopes of all pairs of differences, the differences' unit in 30 days. Null for fewer than
 * four differences or less than a day. Source: Theil 1950; Sen 1968, JASA 63:1379.
 */
export function driftPerMonth(
  differences: readonly { readonly at: Instant; readonly difference: number }[],
): number | null {
  if (differences.length < LEAST) return null;
  const slopes: number[] = [];
  for (const [i, a] of differences.entries())
    for (const b of differences.slice(i + 1))
      if (Math.abs(b.at - a.at) >= DAY) slopes.push((b.difference - a.difference) / (b.at - a.at));
  return slopes.length === 0 ? null : median(slopes) * 30 * DAY;
}
