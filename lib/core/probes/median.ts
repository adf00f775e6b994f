/** Median of a list, the mean of the middle two of an even one; NaN of an empty one. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = Math.floor(sorted.length / 2);
  const upper = sorted[half];
  if (upper === undefined) return Number.NaN;
  return sorted.length % 2 === 1 ? upper : ((sorted[half - 1] as number) + upper) / 2;
}

/** From a median absolute deviation to a standard deviation. Source: Rousseeuw & Croux 1993, JASA 88:1273. */
export const MAD_SCALE = 1.4826;
