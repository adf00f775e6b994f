import { expect, test } from "vitest";
import { inForce, isInForce } from "#core/time/in-force.ts";

const row = (validFrom: number, validTo: number | null, recordedAt = 0) => ({
  validFrom,
  validTo,
  recordedAt,
});

test("the first instant counts, the last does not, and an open end goes on", () => {
  expect([9, 10, 19, 20].map((at) => isInForce(row(10, 20), at))).toEqual([false, true, true, false]);
  expect(isInForce(row(10, null), Number.MAX_SAFE_INTEGER)).toBe(true);
});

test("of several the one that began last, then the one recorded last", () => {
  const [old, late, corrected] = [row(0, null, 9), row(5, null, 1), row(5, null, 2)];
  expect(inForce([late, old], 7)).toBe(late);
  expect(inForce([corrected, late, old], 7)).toBe(corrected);
  expect(inForce([late, corrected], 3)).toBeUndefined();
});
