import { expect, test } from "vitest";
import { monthName, monthRuns } from "#core/time/month-names.ts";
import { monthShort } from "#core/time/names.ts";

test("a month has a name and a short one; the year goes round", () => {
  expect([1, 12, 13, 0].map(monthName)).toEqual(["January", "December", "January", "December"]);
  expect([1, 9].map(monthShort)).toEqual(["Jan", "Sep"]);
});

test("months are told as runs, also over the new year", () => {
  expect(monthRuns([10, 11, 12, 1])).toBe("October to January");
  expect(monthRuns([3, 5, 6], monthShort)).toBe("Mar and May to Jun");
  expect(monthRuns([1, 4, 7])).toBe("January, April and July");
  expect(monthRuns([1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12])).toBe("every month");
  expect(monthRuns([])).toBe("no month");
});
