/** The standard normal distribution, for tests of trend and limits of charts. */

/** erfc by a Chebyshev-fitted rational form, fractional error below 1.2e-7 everywhere. Source: Numerical Recipes (1992) 6.2. */
function erfc(x: number): number {
  const t = 1 / (1 + 0.5 * Math.abs(x));
  const terms = [
    1.00002368, 0.37409196, 0.09678418, -0.18628806, 0.27886807, -1.13520398, 1.48851587, -0.82215223,
    0.17087277,
  ];
  let sum = 0;
  for (let i = terms.length - 1; i >= 0; i--) sum = (terms[i] as number) + t * sum;
  const tail = t * Math.exp(-x * x - 1.26551223 + t * sum);
  return x >= 0 ? tail : 2 - tail;
}

/** Share of a standard normal below `z`, 0 to 1; relative error of a tail below 1.2e-7. */
export const normalCdf = (z: number): number => 0.5 * erfc(-z / Math.SQRT2);

/** Chance of a value at least as far from 0 as `z`, on either side; 0 to 1. */
export const twoSided = (z: number): number => erfc(Math.abs(z) / Math.SQRT2);

/** The value below which the share `p` lies. NaN outside 0 < p < 1. Bisection on `normalCdf`, to 1e-9. */
export function normalQuantile(p: number): number {
  if (!(p > 0 && p < 1)) return Number.NaN;
  let [low, high] = [-40, 40];
  while (high - low > 1e-9) {
    const middle = (low + high) / 2;
    if (normalCdf(middle) < p) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
