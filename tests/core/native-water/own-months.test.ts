import fc from "fast-check";
import { expect, it } from "vitest";
import { monthsOfValues } from "#core/native-water/index.ts";

const value = (month: number, of: number, year: number | null = null, spread: number | null = null) => ({
  year,
  month,
  value: of,
  spread,
});

it("lets each year's month count once, however often it was read", () => {
  // By hand: 2024 was read twice at 10 and 12 (mean 11), 2025 once at 14; the mean of 11 and 14.
  const [january, february] = monthsOfValues([value(1, 10, 2024), value(1, 12, 2024), value(1, 14, 2025)]);
  expect(january).toMatchObject({ value: 12.5, n: 3, years: [2024, 2025], spread: 2 });
  expect(february).toBeNull();
});
it("takes the file's own spread where every value of a month has one, else the sample standard deviation, else none", () => {
  expect(monthsOfValues([value(3, 8, null, 0.4)])[2]).toEqual({ value: 8, spread: 0.4, n: 1, years: [] });
  expect(monthsOfValues([value(3, 8)])[2]?.spread).toBeNull();
  // By hand: 7 and 9 lie 1 from their mean, over one degree of freedom.
  expect(monthsOfValues([value(3, 7, null, 0.4), value(3, 9)])[2]?.spread).toBeCloseTo(Math.SQRT2, 3);
});
it("lies between the least and the greatest of its values, in any order (property)", () => {
  const one = fc.tuple(
    fc.integer({ min: 1, max: 12 }),
    fc.double({ min: -2, max: 40, noNaN: true }),
    fc.constantFrom(2023, 2024, 2025),
  );
  fc.assert(
    fc.property(fc.array(one, { minLength: 1, maxLength: 40 }), (made) => {
      const values = made.map(([month, of, year]) => value(month, of, year));
      const months = monthsOfValues(values);
      expect(months.reduce((sum, month) => sum + (month?.n ?? 0), 0)).toBe(values.length);
      months.forEach((month, i) => {
        const own = values.filter((each) => each.month === i + 1).map((each) => each.value);
        if (month === null) expect(own).toEqual([]);
        else {
          expect(month.value).toBeGreaterThanOrEqual(Math.min(...own) - 0.001);
          expect(month.value).toBeLessThanOrEqual(Math.max(...own) + 0.001);
        }
      });
    }),
  );
});
