import { expect, test } from "vitest";
import { driftPerMonth } from "#core/probes/drift-rate.ts";
import { DAY } from "#core/time/instant.ts";

const daily = (values: readonly number[]) => values.map((difference, i) => ({ at: i * DAY, difference }));

// Sen 1968: the median of pairwise slopes; one wild result does not bend it.
test("the rate is the median slope, in thirty days", () => {
  expect(driftPerMonth(daily([0, -0.01, -0.02, -0.03, -0.04]))).toBeCloseTo(-0.3, 9);
  expect(driftPerMonth(daily([0, -0.01, -0.02, 4, -0.04, -0.05, -0.06]))).toBeCloseTo(-0.3, 9);
});
test("few results, or all of one day, tell no rate", () => {
  expect(driftPerMonth(daily([0, 1, 2]))).toBeNull();
  expect(driftPerMonth([0, 1, 2, 3].map((i) => ({ at: i, difference: i })))).toBeNull();
});
