/** Statistics that a few bad readings do not move. Source: Rousseeuw & Croux 1993, JASA 88:1273. */

/** Makes the median absolute deviation of normal data its standard deviation: 1 / Φ⁻¹(0.75). */
export const MAD_SCALE = 1.4826022185;

const ascending = (values: readonly number[]): number[] => [...values].sort((a, b) => a - b);

/** Median of the values, in their unit; NaN where there is none. The mean of the two middle ones for an even count. */
export function median(values: readonly number[]): number {
  return quantile(values, 0.5);
}

/** Quantile by linear interpolation between order statistics (Hyndman & Fan 1996, type 7); NaN where there is no value. `p` 0 to 1. */
export function quantile(values: readonly number[], p: number): number {
  return quantileOfSorted(ascending(values), p);
}

/** The same of values that already rise. */
export function quantileOfSorted(sorted: readonly number[], p: number): number {
  if (sorted.length === 0) return Number.NaN;
  const at = (sorted.length - 1) * p;
  const below = sorted[Math.floor(at)] as number;
  const above = sorted[Math.ceil(at)] as number;
  return below + (above - below) * (at - Math.floor(at));
}

/** The value that a share `p` of the values, which already rise, lies below: always one that was there; NaN where there is none. */
export const nearestRank = (sorted: readonly number[], p: number): number =>
  sorted[Math.min(sorted.length - 1, Math.floor(p * sorted.length))] ?? Number.NaN;

/**
 * Median of the first `n` of a scratch array, which is put in order in place: no garbage, for what runs at every reading. By insertion, so
 * for few values; NaN where `n` is 0.
 */
export function medianInPlace(scratch: Float64Array, n: number): number {
  for (let i = 1; i < n; i++) {
    const value = scratch[i] as number;
    let j = i;
    while (j > 0 && (scratch[j - 1] as number) > value) {
      scratch[j] = scratch[j - 1] as number;
      j--;
    }
    scratch[j] = value;
  }
  if (n === 0) return Number.NaN;
  const half = n >> 1;
  return n % 2 === 1
    ? (scratch[half] as number)
    : ((scratch[half - 1] as number) + (scratch[half] as number)) / 2;
}

/** Median distance from the median, in the values' unit; NaN where there is no value. */
export function medianDeviation(values: readonly number[]): number {
  const middle = median(values);
  return median(values.map((value) => Math.abs(value - middle)));
}

/**
 * Robust standard deviation, never below `floor`: coarse readings have a median deviation of 0, and nothing may be divided by that.
 * Both in the values' unit; `floor` where there is no value.
 */
export function robustScale(values: readonly number[], floor: number): number {
  const scale = MAD_SCALE * medianDeviation(values);
  return Number.isNaN(scale) ? floor : Math.max(scale, floor);
}
