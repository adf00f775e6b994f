import { expect, it } from "vitest";
import { bandsOver, type TargetBand } from "#core/habitat/index.ts";
import { DAY } from "#core/time/instant.ts";
import { edges } from "#tests/helpers/small-site.ts";

const T = Date.UTC(2026, 10, 1);
const STREAM = { system: "s", quantity: "temperature", pointCode: "exhibit" };
const band = (id: string, given: Partial<TargetBand>): TargetBand => ({
  id,
  system: "s",
  quantity: "temperature",
  point: null,
  months: [edges({ high: 1 })],
  validFrom: T,
  validTo: null,
  recordedAt: 0,
  setBy: "Ada",
  reason: "",
  source: "",
  ...given,
});
const over = (bands: readonly TargetBand[], from: number, to: number) =>
  bandsOver(bands, STREAM, "UTC", from, to);

it("gives one step for each band that holds all year, and none where no band holds", () => {
  const bands = [
    band("first", { validTo: T + 2 * DAY }),
    band("second", { validFrom: T + 3 * DAY, months: [edges({ high: 2 })] }),
    band("of another quantity", { quantity: "ph", months: [edges({ high: 9 })] }),
  ];
  expect(over(bands, T - DAY, T + 5 * DAY).map(({ from, to, edges: { high } }) => [from, to, high])).toEqual([
    [T, T + 2 * DAY, 1],
    [T + 3 * DAY, T + 5 * DAY, 2],
  ]);
});
it("draws monthly values in steps of a day, each with the edges at its middle", () => {
  // Even months 10, odd months 20: from mid-October to mid-November (31 days) the edge rises by 10/31 a day.
  const months = Array.from({ length: 12 }, (_, i) => edges({ high: i % 2 === 0 ? 20 : 10 }));
  const steps = over([band("monthly", { months })], T, T + 2.5 * DAY);
  expect(steps.map(({ from, to }) => [from - T, to - T])).toEqual([
    [0, DAY],
    [DAY, 2 * DAY],
    [2 * DAY, 2.5 * DAY],
  ]);
  // 1 November at noon is 17.5 days past the 15th of October.
  expect(steps[0]?.edges.high).toBeCloseTo(10 + (10 * 17.5) / 31, 9);
});
it("draws a long range in about two hundred steps that leave no gap", () => {
  const months = Array.from({ length: 12 }, (_, i) => edges({ high: i }));
  const steps = over([band("monthly", { months })], T, T + 400 * DAY);
  expect(steps).toHaveLength(200);
  expect(steps.slice(1).every(({ from }, i) => from === steps[i]?.to)).toBe(true);
});
