/** How well a probe agrees with the bench. Values of a pair in one unit, that of the stream. */
import { mean } from "../statistics/mean.ts";
import { student975 } from "./student.ts";

export interface Pair {
  readonly probe: number;
  readonly bench: number;
}
export interface Agreement {
  readonly n: number;
  /** Mean of probe minus bench, its 95 % interval. */
  readonly bias: number;
  readonly biasLow: number;
  readonly biasHigh: number;
  readonly sd: number;
  /** 95 % of differences are expected between these. */
  readonly low: number;
  readonly high: number;
}

/** Null for fewer than two pairs. Source: Bland & Altman 1986, Lancet i:307; limits at 1.96 standard deviations. */
export function agreement(pairs: readonly Pair[]): Agreement | null {
  const n = pairs.length;
  if (n < 2) return null;
  const differences = pairs.map((pair) => pair.probe - pair.bench);
  const bias = mean(differences);
  const sd = Math.sqrt(differences.reduce((sum, d) => sum + (d - bias) ** 2, 0) / (n - 1));
  const half = (student975(n - 1) * sd) / Math.sqrt(n);
  return {
    n,
    bias,
    sd,
    biasLow: bias - half,
    biasHigh: bias + half,
    low: bias - 1.96 * sd,
    high: bias + 1.96 * sd,
  };
}

/**
 * Probe = intercept + slope x bench where both err. `ratio`: variance of the probe's errors over the bench's. Null for fewer than three pairs,
 * or where the bench did not move. Source: Deming regression in closed form, Cornbleet & Gochman 1979, Clinical Chemistry 25:432.
 */
export function deming(
  pairs: readonly Pair[],
  ratio: number,
): { readonly slope: number; readonly intercept: number } | null {
  if (pairs.length < 3) return null;
  const x = mean(pairs.map((pair) => pair.bench));
  const y = mean(pairs.map((pair) => pair.probe));
  let sxx = 0;
  let syy = 0;
  let sxy = 0;
  for (const pair of pairs) {
    sxx += (pair.bench - x) ** 2;
    syy += (pair.probe - y) ** 2;
    sxy += (pair.bench - x) * (pair.probe - y);
  }
  if (sxy === 0) return null;
  const spread = syy - ratio * sxx;
  const slope = (spread + Math.sqrt(spread ** 2 + 4 * ratio * sxy ** 2)) / (2 * sxy);
  return { slope, intercept: y - slope * x };
}

const LEAST_PAIRS = 8;
const LEAST_RANGE = 6;

/**
 * Whether a slope can be told from these pairs: at least eight, and a bench range of six times the scatter of the differences. In a tank that
 * is kept steady it cannot, and only the bias is given. Our own rule.
 */
export function isSlopeTold(pairs: readonly Pair[]): boolean {
  const found = agreement(pairs);
  if (!found || found.n < LEAST_PAIRS) return false;
  const bench = pairs.map((pair) => pair.bench);
  return Math.max(...bench) - Math.min(...bench) >= LEAST_RANGE * found.sd;
}
