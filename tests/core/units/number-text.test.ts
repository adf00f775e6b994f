import fc from "fast-check";
import { describe, expect, it, test } from "vitest";
import { highText, intervalText, lowText, resultText } from "#core/units/bound-text.ts";
import { bytesText } from "#core/units/bytes-text.ts";
import { countText, figuresText } from "#core/units/figures-text.ts";
import { edgeText, numberText, rangeText, signedText, withUnit } from "#core/units/number-text.ts";
import { percent, reachedPercent } from "#core/units/share-text.ts";

test.each([
  [26.94, 1, "26.9"],
  [-1.25, 1, "−1.3"],
  [-0, 1, "0.0"],
  [0, 3, "0.000"],
  [0.0004, 3, "< 0.001"],
  [0.0006, 3, "0.001"],
  [0.04, 1, "< 0.1"],
  [-0.04, 1, "> −0.1"],
  [0.2, 0, "< 1"],
  [Number.NaN, 1, "not known"],
  [Number.POSITIVE_INFINITY, 1, "not known"],
  [null, 1, "not known"],
])("%d with %i decimals is %s", (value, decimals, text) => expect(numberText(value, decimals)).toBe(text));

test("a unit stands beside its number, a percent sign too; none beside what is not known", () => {
  expect(withUnit(26.94, 1, "°C")).toBe("26.9 °C");
  expect(withUnit(99, 0, "%")).toBe("99 %");
  expect(withUnit(8.1, 2, "")).toBe("8.10");
  expect(withUnit(null, 1, "°C")).toBe("not known");
});

test("a difference has its sign, none where there is no difference", () => {
  expect(signedText(0.31, 1, "°C")).toBe("+0.3 °C");
  expect(signedText(-0.31, 1, "°C")).toBe("−0.3 °C");
  expect(signedText(0, 1, "°C")).toBe("0.0 °C");
  expect(signedText(0.04, 1)).toBe("< +0.1");
  expect(signedText(-0.04, 1)).toBe("> −0.1");
  expect(signedText(null, 1, "°C")).toBe("not known");
});

test("ends of an interval go outward, and a small one takes the places it needs", () => {
  expect(intervalText(0.00266, 0.00654, 4)).toBe("0.0026 to 0.0066");
  expect(intervalText(-1.21, -1.19, 1)).toBe("−1.3 to −1.1");
  expect(intervalText(0.00042, 0.2, 3)).toBe("0.0004 to 0.200");
  expect(lowText(7.8, 2)).toBe("7.80");
  expect(highText(0.1 + 0.2, 1)).toBe("0.3");
  expect(highText(0, 2)).toBe("0.00");
  expect(intervalText(null, 1, 1)).toBe("");
  expect(intervalText(0, Number.POSITIVE_INFINITY, 1)).toBe("");
});

test("an edge is printed as stored; one between two months as any value", () => {
  expect(edgeText(0.005, 2)).toBe("0.005");
  expect(edgeText(24.5, 1)).toBe("24.5");
  expect(edgeText(24, 1)).toBe("24.0");
  expect(edgeText(24.516129032258064, 1)).toBe("24.5");
  expect(rangeText({ low: 7.8, high: 8.25 }, 1)).toBe("7.8 to 8.25");
  expect(rangeText({ low: 7.8, high: null }, 2)).toBe("at least 7.80");
  expect(rangeText({ low: null, high: 0.01 }, 3)).toBe("at most 0.010");
  expect(rangeText({ low: null, high: null }, 3)).toBe("open");
});

test("less than keeps the digits of its method", () => {
  expect(resultText(8.1, "=", 2)).toBe("8.10");
  expect(resultText(0.25, "<", 1)).toBe("< 0.25");
  expect(resultText(0.02, "<", 3)).toBe("< 0.02");
  expect(resultText(200, ">", 1)).toBe("> 200");
  expect(resultText(0.0411234, "<", 2)).toBe("< 0.05");
  expect(resultText(0.0411234, ">", 2)).toBe("> 0.04");
  expect(resultText(0.00004123, "<", 3)).toBe("< 0.001");
});

test("counts, figures, shares and sizes", () => {
  expect([0, 999, 1_000, 1_234_567, -12_345].map(countText)).toEqual([
    "0",
    "999",
    "1,000",
    "1,234,567",
    "−12,345",
  ]);
  expect([0, 1 / 3, -2e-7, 123_456_789, null].map((value) => figuresText(value))).toEqual([
    "0",
    "0.333333",
    "−2e−7",
    "1.23457e+8",
    "not known",
  ]);
  expect([1, 0.999, 0.5, 0.001, 0].map(percent)).toEqual(["100 %", "> 99 %", "50 %", "< 1 %", "0 %"]);
  expect([1, 0.9999, 0.921, 0.0004, 0].map(reachedPercent)).toEqual([
    "100.0 %",
    "99.9 %",
    "92.1 %",
    "0.04 %",
    "0.0 %",
  ]);
  expect([17, 1_536, 1.5e9].map(bytesText)).toEqual(["17 B", "1.5 KiB", "1.4 GiB"]);
});

describe("whatever the number", () => {
  const size = fc.double({ min: 1e-9, max: 1e6, noNaN: true });
  const some = fc.oneof(
    size,
    size.map((value) => -value),
    fc.integer({ min: -1_000, max: 1_000 }).map((value) => value / 100),
  );
  const decimals = fc.integer({ min: 0, max: 4 });
  const read = (text: string) => Number(text.replace(/^[<>] /, "").replace("−", "-"));
  /** Beyond twelve figures nothing is known of a double that came of decimals. */
  const dust = (value: number) => 1e-12 * Math.abs(value);

  it("prints no bound inward of it", () =>
    fc.assert(
      fc.property(some, decimals, (value, places) => {
        expect(read(lowText(value, places))).toBeLessThanOrEqual(value + dust(value));
        expect(read(highText(value, places))).toBeGreaterThanOrEqual(value - dust(value));
      }),
    ));

  it("prints no bound further out than a last place", () =>
    fc.assert(
      fc.property(some, decimals, (value, places) => {
        const last = 1.000001 * 10 ** -places;
        expect(value - read(lowText(value, places))).toBeLessThanOrEqual(last);
        expect(read(highText(value, places)) - value).toBeLessThanOrEqual(last);
      }),
    ));

  it("never reads as zero where it is none, and as zero where it is", () =>
    fc.assert(
      fc.property(some, decimals, (value, places) => {
        for (const write of [numberText, lowText, highText, edgeText])
          expect(read(write(value, places)) === 0).toBe(value === 0);
        for (const qualifier of ["<", ">"] as const)
          expect(read(resultText(value, qualifier, places)) === 0).toBe(value === 0);
      }),
    ));

  it("reads no smaller than a smaller one", () =>
    fc.assert(
      fc.property(some, some, decimals, (a, b, places) => {
        const [less, more] = a < b ? [a, b] : [b, a];
        for (const write of [numberText, lowText, highText])
          expect(read(write(less, places))).toBeLessThanOrEqual(read(write(more, places)));
      }),
    ));

  it("is within half a last place of it where it is no bound", () =>
    fc.assert(
      fc.property(some, decimals, (value, places) => {
        const text = numberText(value, places);
        if (/^[<>]/.test(text)) expect(Math.abs(value)).toBeLessThan(10 ** -places);
        else expect(Math.abs(read(text) - value)).toBeLessThanOrEqual(0.5000001 * 10 ** -places);
      }),
    ));
});
