/** What types cannot see of what keepers go by for each quantity: that its numbers fit together, and that a bench form has a place for it. */
import { expect, it } from "vitest";
import { BENCH_QUANTITIES, benchField, WALK } from "#core/bench/field.ts";
import { type NumberQuantityId, QUANTITIES, QUANTITY_IDS } from "#core/units/index.ts";

const numbers = QUANTITY_IDS.flatMap((id) => {
  const spec = QUANTITIES[id];
  return spec.kind === "number" ? [spec] : [];
});

it("lies within what an instrument can read, and a change that matters is smaller than what water can be", () => {
  for (const { id, plausible, practice } of numbers) {
    const width = plausible[1] - plausible[0];
    const { matters, repeats, course, check, actWithin, calibratedEvery } = practice;
    for (const [amount, share] of [matters, repeats, course?.step, course?.day, course?.week].filter(
      (s) => s != null,
    )) {
      expect(amount >= 0 && share >= 0 && amount + share > 0, id).toBe(true);
      expect(amount, id).toBeLessThan(width / 4);
      expect(share, id).toBeLessThan(0.5);
    }
    expect(actWithin, id).toBeGreaterThan(0);
    if (calibratedEvery !== null) expect(calibratedEvery, id).toBeGreaterThanOrEqual(1);
    if (check) expect(check.matters, id).toBeGreaterThanOrEqual(check.sigma);
  }
});

it("a probe that is held against the bench is calibrated at times", () => {
  for (const { id, practice } of numbers)
    if (practice.check !== null) expect(practice.calibratedEvery, id).not.toBeNull();
});

it("a quantity whose results are held against a trend can be typed", () => {
  for (const { id, practice } of numbers)
    if (practice.repeats !== null) expect(benchField(id), id).toBeDefined();
});

it("everything that can be typed has its place on the walk or comes from a laboratory, a gauge or a lamp, and nothing has two", () => {
  const typed = BENCH_QUANTITIES.map(({ quantity }) => quantity as NumberQuantityId);
  expect([...WALK].sort()).toEqual([...typed].sort());
  for (const id of ["nitrate", "phosphate", "silicate", "alkalinity"] as const) expect(WALK).toContain(id);
  expect(WALK.indexOf("silicate")).toBe(WALK.indexOf("phosphate") + 1);
});
