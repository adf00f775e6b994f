/** Arithmetic mean of the values, in their unit; NaN where there is none. */
export const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;
