import { expect, test } from "vitest";
import { rangesIn } from "#core/habitat/index.ts";
import { entry } from "./made.ts";

const rows = (...months: [number, number, number][]) =>
  months.map(([month, low, high]) => entry({ month, low, high }));

test("a month with an entry of its own has it; all year holds in each", () => {
  expect(rangesIn(rows([5, 10, 12]), 5)).toMatchObject([{ low: 10, high: 12, between: null }]);
  expect(rangesIn([entry({ low: 1, high: 2 })], 9)).toMatchObject([{ low: 1, high: 2, between: null }]);
});

test("a missing month runs linearly by the days between mid-months, across the turn of the year too", () => {
  // 15 Nov to 15 Jan is 61 days, to 15 Dec 30.
  const [december] = rangesIn(rows([11, 10, 20], [1, 16, 26], [6, 0, 1]), 12);
  expect(december?.low).toBeCloseTo(10 + (6 * 30) / 61, 10);
  expect(december?.high).toBeCloseTo(20 + (6 * 30) / 61, 10);
  expect(december?.between?.map((each) => each.month)).toEqual([11, 1]);
});

test("one author's months are one series; another author's are another", () => {
  const two = [
    ...rows([1, 10, 12], [7, 20, 22]),
    entry({ month: 7, low: 5, high: 6, source: "somebody else" }),
  ];
  expect(rangesIn(two, 7).map((range) => range.low)).toEqual([20, 5]);
});

test("a side that one of the two months leaves open is open between them", () => {
  const [range] = rangesIn([entry({ month: 1, low: 5 }), entry({ month: 3, low: 7, high: 9 })], 2);
  expect(range?.low).toBeGreaterThan(5);
  expect(range?.high).toBeNull();
});
