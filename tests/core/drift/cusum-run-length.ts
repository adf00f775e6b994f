/**
 * How long a cumulative sum of standardised values runs until it calls, and the limit for a wanted run length: what the limits in the
 * evaluator were designed with. Source: the Markov chain of Brook & Evans 1972; held against published tables in tests/published.
 */
import { normalCdf } from "#core/drift/normal.ts";

/** Solves (I - Q) x = 1 by elimination with row exchange; `q` is overwritten. */
function meanTimes(q: Float64Array[]): number[] {
  const n = q.length;
  const x = new Float64Array(n).fill(1);
  for (const [i, row] of q.entries()) for (let j = 0; j < n; j++) row[j] = (i === j ? 1 : 0) - (row[j] ?? 0);
  for (let c = 0; c < n; c++) {
    let pivot = c;
    for (let r = c + 1; r < n; r++) if (Math.abs(q[r]?.[c] ?? 0) > Math.abs(q[pivot]?.[c] ?? 0)) pivot = r;
    [q[c], q[pivot]] = [q[pivot] as Float64Array, q[c] as Float64Array];
    [x[c], x[pivot]] = [x[pivot] as number, x[c] as number];
    const top = q[c] as Float64Array;
    for (let r = c + 1; r < n; r++) {
      const row = q[r] as Float64Array;
      const f = (row[c] as number) / (top[c] as number);
      if (f === 0) continue;
      for (let j = c; j < n; j++) row[j] = (row[j] as number) - f * (top[j] as number);
      x[r] = (x[r] as number) - f * (x[c] as number);
    }
  }
  for (let r = n - 1; r >= 0; r--) {
    const row = q[r] as Float64Array;
    let sum = x[r] as number;
    for (let j = r + 1; j < n; j++) sum -= (row[j] as number) * (x[j] as number);
    x[r] = sum / (row[r] as number);
  }
  return [...x];
}

const STATES = 121;

/** One-sided cumulative sum with head start, by the same chain: the first state holds everything at or below 0. */
function oneSidedRunLength(k: number, h: number, shift: number, headStart: number): number {
  const width = (2 * h) / (2 * STATES - 1);
  const q = Array.from({ length: STATES }, (_, i) => {
    const below = (j: number) => normalCdf((j + 0.5 - i) * width + k - shift);
    return Float64Array.from({ length: STATES }, (_, j) => (j === 0 ? below(0) : below(j) - below(j - 1)));
  });
  const times = meanTimes(q);
  const at = headStart / width;
  const left = Math.min(Math.floor(at), STATES - 2);
  const [a, b] = [times[left] as number, times[left + 1] as number];
  return a + (b - a) * (at - left);
}

/** Mean number of values until an upper cumulative sum calls, under a steady shift in sigma. */
export const cusumOneSidedRunLength = (k: number, h: number, shift: number, headStart = 0): number =>
  oneSidedRunLength(k, h, shift, headStart);

/** The same for the two-sided chart. Source for a head start: Lucas & Crosier 1982, Technometrics 24:199. */
export function cusumRunLength(k: number, h: number, shift: number, headStart = 0): number {
  const [up, down] = [oneSidedRunLength(k, h, shift, 0), oneSidedRunLength(k, h, -shift, 0)];
  if (headStart === 0) return 1 / (1 / up + 1 / down);
  const upStart = oneSidedRunLength(k, h, shift, headStart);
  const downStart = oneSidedRunLength(k, h, -shift, headStart);
  return (upStart * down + downStart * up - up * down) / (up + down);
}

/** The argument at which a rising function reaches `wanted`, to a thousandth. */
function solve(rising: (x: number) => number, wanted: number, low: number, high: number): number {
  let [a, b] = [low, high];
  while (b - a > 5e-4) {
    const middle = (a + b) / 2;
    if (rising(middle) < wanted) a = middle;
    else b = middle;
  }
  return (a + b) / 2;
}

/** The limit h of a two-sided cumulative sum that calls falsely once in `runLength` values (100 to 100,000). */
export const cusumLimit = (k: number, runLength: number): number =>
  solve((h) => cusumRunLength(k, h, 0), runLength, 1, 30);
