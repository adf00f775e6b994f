/**
 * Intervals whose coverage is measured, not assumed. Sources: Lei and others 2018, JASA 113:1094 (split conformal); Gibbs & Candes 2021,
 * Adaptive conformal inference under distribution shift.
 */

/** Half-width that covers with probability 1 - alpha: the k-th smallest of n absolute errors, k = ceil((n+1)(1-alpha)); null where k > n. */
export function halfWidth(absoluteErrors: readonly number[], alpha: number): number | null {
  const n = absoluteErrors.length;
  const k = Math.ceil((n + 1) * (1 - alpha));
  if (k > n || k < 1) return null;
  return [...absoluteErrors].sort((a, b) => a - b)[k - 1] as number;
}

/** The share of misses to aim at next: more room after a miss, less after a hit. `alpha` now, `wanted` in the long run, `gamma` how fast. */
export const nextAlpha = (alpha: number, wanted: number, gamma: number, covered: boolean): number =>
  alpha + gamma * (wanted - (covered ? 0 : 1));

/** Kept where an interval still means something. */
export const clippedAlpha = (alpha: number): number => Math.min(0.5, Math.max(0.002, alpha));
