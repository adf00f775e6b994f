/**
 * Two-sided 95 % quantile of Student's t: the value that 2.5 % lie above. `freedom`: degrees of freedom, a whole number from 1; NaN below.
 * Exact for 1 and 2, else to five digits. Source: Hill 1970, Algorithm 396, Communications of the ACM 13:619.
 */
export function student975(freedom: number): number {
  const p = 0.05;
  if (!(freedom >= 1)) return Number.NaN;
  if (freedom === 1) return 1 / Math.tan((p * Math.PI) / 2);
  if (freedom === 2) return Math.sqrt(2 / (p * (2 - p)) - 2);
  const a = 1 / (freedom - 0.5);
  const b = 48 / (a * a);
  let c = (((20700 * a) / b - 98) * a - 16) * a + 96.36;
  const d = ((94.5 / (b + c) - 3) / b + 1) * Math.sqrt((a * Math.PI) / 2) * freedom;
  let y = (d * p) ** (2 / freedom);
  if (y > 0.05 + a) {
    // Normal quantile of p/2 = 0.025.
    const x = -1.959963984540054;
    y = x * x;
    if (freedom < 5) c += 0.3 * (freedom - 4.5) * (x + 0.6);
    c = (((0.05 * d * x - 5) * x - 7) * x - 2) * x + b + c;
    y = (((((0.4 * y + 6.3) * y + 36) * y + 94.5) / c - y - 3) / b + 1) * x;
    y = Math.expm1(a * y * y);
  } else {
    y =
      ((1 / (((freedom + 6) / (freedom * y) - 0.089 * d - 0.822) * (freedom + 2) * 3) + 0.5 / (freedom + 4)) *
        y -
        1) *
        ((freedom + 1) / (freedom + 2)) +
      1 / y;
  }
  return Math.sqrt(freedom * y);
}
