import { expect, test } from "vitest";
import { aheadWords } from "#app/overnight/_parts/ahead.tsx";

const OF = { decimals: 1, unitLabel: "°C" };
const ROW = {
  hours: 6,
  value: 26.9,
  low: 26.5,
  high: 27.3,
  isStated: true,
  coverage: null,
  origins: 0,
  unbounded: 0,
};

test("a forecast value carries its unit", () => {
  expect(aheadWords(ROW, OF)).toBe("in 6 h: 26.9 °C, 90 % interval 26.5 to 27.3");
  expect(aheadWords({ ...ROW, isStated: false }, OF)).toBe("in 6 h: 26.9 °C, rough 26.5 to 27.3");
  expect(aheadWords({ ...ROW, value: null, low: null, high: null }, OF)).toBe("in 6 h: not known");
});
