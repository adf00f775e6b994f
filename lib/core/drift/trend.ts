/** Is there a trend, and how steep is it: Mann-Kendall and Theil-Sen, for few values that may hold outliers and ties. */

import { median } from "../statistics/robust.ts";
import { normalQuantile, twoSided } from "./normal.ts";

export interface MannKendall {
  readonly n: number;
  readonly s: number;
  readonly variance: number;
  readonly z: number;
  /** Two-sided; 1 where nothing can be said. */
  readonly p: number;
}

/** Sum of n(n-1)(2n+5) over groups of equal values. */
function tieSum(values: readonly number[]): number {
  const counts = new Map<number, number>();
  for (const value of values) counts.set(value, (counts.get(value) ?? 0) + 1);
  let sum = 0;
  for (const n of counts.values()) sum += n * (n - 1) * (2 * n + 5);
  return sum;
}

/**
 * Mann-Kendall test of a series in order of time, with ties and the correction for continuity; equal values throughout: z = 0, p = 1.
 * Values of the series should not be correlated from one to the next: give it daily medians, or bench results.
 * Source: Mann 1945; Kendall 1975; Gilbert 1987.
 */
export function mannKendall(values: readonly number[]): MannKendall {
  const n = values.length;
  let s = 0;
  for (let i = 1; i < n; i++)
    for (let j = 0; j < i; j++) s += Math.sign((values[i] as number) - (values[j] as number));
  const variance = (n * (n - 1) * (2 * n + 5) - tieSum(values)) / 18;
  const z = s === 0 || variance <= 0 ? 0 : (s - Math.sign(s)) / Math.sqrt(variance);
  return { n, s, variance, z, p: z === 0 ? 1 : twoSided(z) };
}

export interface TheilSen {
  /** Units of the values a unit of time. */
  readonly slope: number;
  readonly intercept: number;
  /** Interval of the slope at the confidence asked for. */
  readonly low: number;
  readonly high: number;
}

/** The nearest whole number, halves to the even one, as the reference computes ranks. */
function toEven(x: number): number {
  const whole = Math.round(x);
  return Math.abs(x % 1) === 0.5 && whole % 2 !== 0 ? whole - 1 : whole;
}

/**
 * Theil-Sen: the median of the slopes between all pairs, with the interval from the order of those slopes. Null where no two times
 * differ. `t` in any unit of time, rising. Source: Theil 1950; Sen 1968, JASA 63:1379.
 */
export function theilSen(
  t: readonly number[],
  values: readonly number[],
  confidence: number,
): TheilSen | null {
  const slopes: number[] = [];
  for (let i = 1; i < values.length; i++)
    for (let j = 0; j < i; j++) {
      const dt = (t[i] as number) - (t[j] as number);
      if (dt > 0) slopes.push(((values[i] as number) - (values[j] as number)) / dt);
    }
  if (slopes.length === 0) return null;
  slopes.sort((a, b) => a - b);
  const slope = median(slopes);
  const n = values.length;
  const sigma = Math.sqrt((n * (n - 1) * (2 * n + 5) - tieSum(t) - tieSum(values)) / 18);
  const reach = normalQuantile(0.5 + confidence / 2) * sigma;
  const upper = Math.min(toEven((slopes.length + reach) / 2), slopes.length - 1);
  const lower = Math.max(toEven((slopes.length - reach) / 2) - 1, 0);
  return {
    slope,
    intercept: median(values) - slope * median(t),
    low: slopes[lower] as number,
    high: slopes[upper] as number,
  };
}
