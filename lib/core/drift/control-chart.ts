/** A control chart of standardised values z = (x - target) / sigma. Source: Page 1954 (CUSUM). */
export interface Cusum {
  readonly high: number;
  readonly low: number;
}
/** One step of a two-sided cumulative sum; `k` is half the shift to catch, in sigma. Both sums begin at 0. */
export const cusumStep = (state: Cusum, z: number, k: number): Cusum => ({
  high: Math.max(0, state.high + z - k),
  low: Math.max(0, state.low - z - k),
});
