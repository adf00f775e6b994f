import { expect, test } from "vitest";
import { numberText, withUnit } from "#core/units/number-text.ts";

test.each([
  [0.0004, 3, "< 0.001"],
  [0, 3, "0.000"],
  [-0.0004, 3, "0.000"],
  [-1.25, 1, "−1.3"],
  [8.1, 2, "8.10"],
  [Number.NaN, 2, "not known"],
])("%d with %i decimals is %s", (value, decimals, text) => expect(numberText(value, decimals)).toBe(text));

test("a unit stands beside its number, and pure numbers have none", () => {
  expect(withUnit(26.94, 1, "°C")).toBe("26.9 °C");
  expect(withUnit(8.1, 2, "")).toBe("8.10");
});
