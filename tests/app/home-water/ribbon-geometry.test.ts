import { expect, test } from "vitest";
import { scaleOf, tickPlaces } from "#app/home-water/_parts/ribbon-geometry.ts";
import { numberText } from "#core/units/number-text.ts";

const written = (values: readonly number[], decimals: number) => {
  const { ticks } = scaleOf(values);
  return ticks.map((tick) => numberText(tick, tickPlaces(ticks, decimals)));
};

test("each line of a chart is labelled with the number it is drawn at, and no two alike", () => {
  // Salinity that hardly moves, and a step of a quarter.
  expect(written([34.79, 34.8, 34.81], 1)).toEqual(["34.75", "34.80", "34.85"]);
  expect(written([8.07, 8.17], 2)).toContain("8.125");
  expect(written([13, 15.3], 1)).toEqual(["13.0", "13.5", "14.0", "14.5", "15.0"]);
  expect(written([94, 99], 0)).toEqual(["94", "95", "96", "97", "98", "99"]);
});
