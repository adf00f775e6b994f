import { expect, it } from "vitest";
import { turnsOf } from "#core/time/in-force.ts";
import { spansBetween } from "#core/time/spans.ts";

it("cuts a span at each change inside it once, whatever their order", () => {
  expect(spansBetween([7, 3, 7, 0, 10, 12], { from: 0, to: 10 })).toEqual([
    { from: 0, to: 3 },
    { from: 3, to: 7 },
    { from: 7, to: 10 },
  ]);
});
it("is whole where nothing changes inside it", () => {
  expect(spansBetween([], { from: 2, to: 5 })).toEqual([{ from: 2, to: 5 }]);
});
it("is cut by what begins or ceases to hold; what holds on ceases nowhere", () => {
  const rows = [
    { validFrom: 1, validTo: 4 },
    { validFrom: 4, validTo: null },
  ];
  expect(turnsOf(rows)).toEqual([1, 4, 4]);
});
