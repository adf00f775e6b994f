import { describe, expect, test } from "vitest";
import { courseOf } from "#core/overnight/course.ts";

/** Source of every number here: worked by hand from distance = speed × time. */
const BAND = { low: 24, high: 27, actionLow: 22, actionHigh: 29, urgentLow: null, urgentHigh: null };
const at = (value: number, rate: number, deviation: number) => ({ value, rate, deviation, band: BAND });

describe("where a quantity is heading", () => {
  test("away from its band is worse, towards it is recovering, hardly moving is steady", () => {
    expect(courseOf(at(28, 0.2, 0.5))).toBe("worse");
    expect(courseOf(at(28, -0.2, 0.5))).toBe("recovering");
    expect(courseOf(at(23, 0.2, -0.5))).toBe("recovering");
    expect(courseOf(at(28, 0.001, 0.5))).toBe("steady");
  });
  test("in band it can get worse and not recover", () => {
    expect(courseOf(at(26.5, 0.3, 0))).toBe("worse");
    expect(courseOf(at(26.5, 0, 0))).toBe("steady");
  });
  test("nothing is claimed without rate or band", () => {
    expect(courseOf({ value: 28, rate: null, deviation: 0.5, band: BAND })).toBe("steady");
    expect(courseOf({ value: 28, rate: 1, deviation: 0.5, band: null })).toBe("steady");
    // Silent: the rate is that of its last reading, and nothing is proven of now.
    expect(courseOf({ value: 28, rate: 1, deviation: null, band: BAND })).toBe("steady");
  });
});
