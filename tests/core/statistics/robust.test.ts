import fc from "fast-check";
import { expect, test } from "vitest";
import { mean } from "#core/statistics/mean.ts";
import { median, medianInPlace, quantile, quantileOfSorted } from "#core/statistics/robust.ts";

const values = fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { minLength: 1, maxLength: 40 });

test("an even count has the mean of its two middle values", () => {
  expect(median([4, 1, 3, 2])).toBe(2.5);
  expect(median([10, 30])).toBe(20);
  expect(median([5])).toBe(5);
  expect(median([])).toBeNaN();
  expect(medianInPlace(Float64Array.of(4, 1, 3, 2, 99), 4)).toBe(2.5);
  expect(medianInPlace(new Float64Array(3), 0)).toBeNaN();
  expect(mean([1, 2, 6])).toBe(3);
});

test("half of the values lie on either side of a median, and both ways to it agree", () => {
  fc.assert(
    fc.property(values, (list) => {
      const middle = median(list);
      expect(2 * list.filter((value) => value < middle).length).toBeLessThanOrEqual(list.length);
      expect(2 * list.filter((value) => value > middle).length).toBeLessThanOrEqual(list.length);
      expect(medianInPlace(Float64Array.from(list), list.length)).toBeCloseTo(middle, 6);
    }),
  );
});

test("a quantile of values in order is the quantile of the values, and leaves the list as it was", () => {
  fc.assert(
    fc.property(values, fc.double({ min: 0, max: 1, noNaN: true }), (list, p) => {
      const before = [...list];
      expect(quantile(list, p)).toBe(
        quantileOfSorted(
          [...list].sort((a, b) => a - b),
          p,
        ),
      );
      expect(list).toEqual(before);
    }),
  );
});
