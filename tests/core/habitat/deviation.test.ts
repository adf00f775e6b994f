import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { censoredDeviation, deviation, faultsOf } from "#core/habitat/index.ts";
import { edges } from "#tests/helpers/small-site.ts";

const band = edges({ low: 24, high: 27, actionLow: 22, actionHigh: 29 });

describe("deviation", () => {
  test("0 in the band, edges included; 1 at the action limit; signed", () => {
    expect([24, 25.5, 27].map((value) => deviation(value, band))).toEqual([0, 0, 0]);
    expect(deviation(29, band)).toBe(1);
    expect(deviation(22, band)).toBe(-1);
    expect(deviation(28, band)).toBeCloseTo(0.5, 12);
    expect(deviation(31, band)).toBe(2);
  });

  test("an open side is measured in half band widths and can never demand action", () => {
    const open = edges({ low: 90, high: 105, actionLow: 85 });
    expect(deviation(108, open)).toBeCloseTo(3 / 7.5, 12);
    expect(deviation(1000, open)).toBe(0.99);
  });

  test("a one-sided band without a limit is measured in half its edge", () => {
    const nitrate = edges({ high: 20 });
    expect(deviation(25, nitrate)).toBeCloseTo(0.5, 12);
    expect(deviation(0, nitrate)).toBe(0);
  });

  test("no edge, or no number, gives no deviation", () => {
    expect(deviation(5, edges({}))).toBeNull();
    expect(deviation(Number.NaN, band)).toBeNull();
  });

  test("never falls as the value moves outwards, whatever the band", () => {
    const bands = fc
      .tuple(
        fc.double({ min: -50, max: 50, noNaN: true }),
        fc.double({ min: 0.1, max: 20, noNaN: true }),
        fc.boolean(),
        fc.boolean(),
      )
      .map(([low, width, limitLow, limitHigh]) =>
        edges({
          low,
          high: low + width,
          actionLow: limitLow ? low - width / 3 : null,
          actionHigh: limitHigh ? low + width * 1.7 : null,
        }),
      );
    const values = fc.double({ min: -100, max: 100, noNaN: true });
    fc.assert(
      fc.property(bands, values, values, (given, a, b) => {
        const [less, more] = [Math.min(a, b), Math.max(a, b)];
        expect(deviation(less, given) as number).toBeLessThanOrEqual(deviation(more, given) as number);
      }),
    );
  });
});

describe("censored results", () => {
  const tro = edges({ high: 0.02, actionHigh: 0.04 });
  test("below x is in band where x itself is", () => expect(censoredDeviation(0.02, "below", tro)).toBe(0));
  test("below x proves nothing where x lies past the edge", () =>
    expect(censoredDeviation(0.03, "below", tro)).toBeNull());
  test("above x is out of band where x is", () => expect(censoredDeviation(0.04, "above", tro)).toBe(1));
  test("above x proves nothing where x lies in the band", () =>
    expect(censoredDeviation(0.01, "above", tro)).toBeNull());
});

describe("faults of edges a person typed", () => {
  test("a sound band has none", () => expect(faultsOf(band)).toEqual([]));
  test("limits must lie strictly beyond edges", () => {
    expect(faultsOf({ ...band, actionHigh: 27 })).toEqual(["action limit 27 must be above the high edge 27"]);
    expect(faultsOf({ ...band, actionLow: 25 })).toHaveLength(1);
    expect(faultsOf({ ...band, low: 28 })[0]).toContain("low 28 must be below high 27");
    expect(faultsOf(edges({ actionHigh: 5 }))).toEqual(["an action limit above needs a high edge"]);
  });
});
