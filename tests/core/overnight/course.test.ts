import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { courseOf, meanRate, timeLeft } from "../../../lib/core/overnight/course.ts";
import { DAY, HOUR } from "../../../lib/core/time/instant.ts";

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
  });
});

describe("how long is left", () => {
  test("between what the rate of two hours and the mean rate give", () => {
    // 1 °C to go: at 0.25 an hour 4 h, at 0.5 an hour 2 h.
    expect(timeLeft(at(28, 0.25, 0.5), 0.5)).toEqual({
      kind: "reaches",
      target: "limit",
      value: 29,
      from: 2 * HOUR,
      to: 4 * HOUR,
    });
  });
  test("in band the edge comes first; one rate alone is told with its spread", () => {
    // 0.5 °C to go at 0.25 an hour: 2 h, told from 80 min to 3 h.
    const left = timeLeft(at(26.5, 0.25, 0), null);
    expect(left).toMatchObject({ kind: "reaches", target: "edge", value: 27, to: 3 * HOUR });
    expect(left.kind === "reaches" ? left.from / HOUR : 0).toBeCloseTo(4 / 3, 9);
  });
  test("falling to the lower limit counts the same way", () => {
    expect(timeLeft(at(23, -0.5, -0.5), -0.25)).toMatchObject({ value: 22, from: 2 * HOUR, to: 4 * HOUR });
  });
  test("past the limit, coming back, too slow and open sides say so", () => {
    expect(timeLeft(at(29.5, 0.2, 1.25), null)).toEqual({ kind: "past", value: 29 });
    expect(timeLeft({ ...at(29.5, 0, 1.25), rate: null }, null)).toEqual({ kind: "past", value: 29 });
    expect(timeLeft({ ...at(28, 0, 0.5), rate: null }, null)).toEqual({ kind: "not known" });
    expect(timeLeft(at(28, -0.2, 0.5), null)).toEqual({ kind: "away" });
    // 100 °C to go at 0.1 an hour: 1000 h.
    const wide = { ...BAND, low: -100, high: 126, actionHigh: 127 };
    expect(timeLeft({ value: 26, rate: 0.1, deviation: 0, band: wide }, null)).toEqual({
      kind: "not soon",
      value: 126,
    });
    const open = { ...BAND, actionHigh: null };
    expect(timeLeft({ value: 28, rate: 0.9, deviation: 0.4, band: open }, null)).toEqual({ kind: "open" });
  });
  test("nothing believable, nothing told", () => {
    expect(timeLeft({ value: null, rate: 1, deviation: 0, band: BAND }, null)).toEqual({ kind: "not known" });
    expect(timeLeft({ value: 28, rate: 1, deviation: null, band: BAND }, null)).toEqual({
      kind: "not known",
    });
  });
  test("never negative, never beyond seven days, the earlier end first", () => {
    const number = fc.double({ noNaN: true, noDefaultInfinity: true, min: -60, max: 60 });
    fc.assert(
      fc.property(number, number, fc.option(number), (value, rate, other) => {
        const deviation = value > 27 ? (value - 27) / 2 : value < 24 ? (value - 24) / 2 : 0;
        const left = timeLeft(at(value, rate, deviation), other);
        if (left.kind !== "reaches") return true;
        return left.from >= 0 && left.from <= left.to && left.to <= 7 * DAY;
      }),
    );
  });
});

test("the mean rate since an edge was crossed needs a quarter of an hour", () => {
  expect(meanRate(28, 27, 0, 2 * HOUR)).toBe(0.5);
  expect(meanRate(28, 27, 0, HOUR / 10)).toBeNull();
  expect(meanRate(28, null, 0, HOUR)).toBeNull();
});
