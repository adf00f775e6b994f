import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Heading, inDays, soon, timeLeft } from "#core/forecast/time-left.ts";
import { DAY, HOUR } from "#core/time/instant.ts";

/** Source of every number here: worked by hand from distance = speed × time. */
const BAND = { low: 24, high: 27, actionLow: 22, actionHigh: 29, urgentLow: null, urgentHigh: null };

/** Quarter-hour means of so many hours that come to `value`, changing by so much an hour. */
const course = (value: number, perHour: number, hours: number, noise = 0) =>
  Array.from({ length: 4 * hours }, (_, i) => {
    const hour = (i + 1) / 4 - hours;
    return [hour, value + perHour * hour + noise * ((i * 7) % 5) - 2 * noise] as const;
  });
const at = (value: number, deviation: number, more: Partial<Heading> = {}): Heading => ({
  value,
  deviation,
  rate: null,
  band: BAND,
  isFast: false,
  recent: [],
  ...more,
});
const never = () => null;

describe("by the last hours", () => {
  test("a straight course is told within a quarter, and as rough, because nothing measured how often that holds", () => {
    const left = timeLeft(at(28, 0.5, { recent: course(28, 0.25, 6) }), never);
    expect(left).toMatchObject({ kind: "reaches", target: "limit", value: 29, isStated: false });
    if (left.kind !== "reaches" || left.to === null) throw new Error("no interval");
    expect([left.from / HOUR, left.to / HOUR]).toEqual([
      expect.closeTo(4 / 1.25, 9),
      expect.closeTo(4 * 1.25, 9),
    ]);
  });

  test("a noisy one lies between the ends of the slope's interval, and holds what the true slope gives", () => {
    const left = timeLeft(at(28, 0.5, { recent: course(28, 0.25, 6, 0.05) }), never);
    if (left.kind !== "reaches" || left.to === null) throw new Error("no interval");
    expect(left.from).toBeLessThan(left.to);
    expect(left.from / HOUR).toBeLessThan(4.01);
    expect(left.to / HOUR).toBeGreaterThan(3.99);
  });

  test("down to the lower limit, and in its band to the edge, count the same way", () => {
    expect(timeLeft(at(23, -0.5, { recent: course(23, -0.5, 6) }), never)).toMatchObject({
      target: "limit",
      value: 22,
      from: expect.closeTo((2 * HOUR) / 1.25, 3),
    });
    const rising = at(26.5, 0, { rate: 0.25, recent: course(26.5, 0.25, 6) });
    expect(timeLeft(rising, never)).toMatchObject({
      target: "edge",
      value: 27,
      from: expect.closeTo((2 * HOUR) / 1.25, 3),
    });
  });

  test("goes on for no longer than twelve hours, and what moves away or stands reaches nothing", () => {
    expect(soon(at(28, 0.5, { recent: course(28, 0.07, 6) }), 29, 1)?.earliest).toBeCloseTo(
      1 / 0.07 / 1.25,
      6,
    );
    expect(soon(at(28, 0.5, { recent: course(28, 0.06, 6) }), 29, 1)).toBeNull();
    expect(soon(at(28, 0.5, { recent: course(28, -0.5, 6) }), 29, 1)).toBeNull();
    expect(soon(at(28, 0.5, { recent: course(28, 0, 6, 0.05) }), 29, 1)).toBeNull();
  });

  test("that are too few say nothing, unless a finding vouches for the rate: two thirds to one and a half of it", () => {
    const few = { rate: 0.5, recent: course(28, 0.5, 1) };
    expect(soon(at(28, 0.5, few), 29, 1)).toBeNull();
    const fast = soon(at(28, 0.5, { ...few, isFast: true }), 29, 1);
    expect([fast?.earliest, fast?.latest]).toEqual([expect.closeTo(4 / 3, 9), expect.closeTo(3, 9)]);
    expect(soon(at(28, 0.5, { ...few, rate: -0.5, isFast: true }), 29, 1)).toBeNull();
  });
});

describe("by the last weeks", () => {
  const weeks = (perDay: number, days: number) =>
    Array.from({ length: 24 * days }, (_, i) => 28 + (perDay * (i + 1 - 24 * days)) / 24);

  test("is told with what was measured on the stream", () => {
    const days = (goal: number, side: 1 | -1) => inDays(weeks(0.3, 24), goal, side);
    const left = timeLeft(at(28, 0.5), days);
    if (left.kind !== "reaches") throw new Error(left.kind);
    expect(left.from).toBeGreaterThan(DAY);
    expect(left.from).toBeLessThanOrEqual(7 * DAY);
  });

  test("without a trend it is not within seven days; without a week nothing is known", () => {
    expect(timeLeft(at(28, 0.5), (goal, side) => inDays(weeks(0, 24), goal, side))).toEqual({
      kind: "not soon",
      value: 29,
    });
    expect(timeLeft(at(28, 0.5), (goal, side) => inDays(weeks(-0.3, 24), goal, side)).kind).toBe("not soon");
    expect(inDays(weeks(0.3, 6), 29, 1)).toBeNull();
    expect(timeLeft(at(28, 0.5), never)).toEqual({ kind: "not known" });
  });
});

test("past its limit, on an open side, still in its band, not believable: each is said", () => {
  expect(timeLeft(at(29.5, 1.25), never)).toEqual({ kind: "past", value: 29 });
  const open = { ...BAND, actionHigh: null };
  expect(timeLeft({ ...at(28, 0.4), band: open }, never)).toEqual({ kind: "open" });
  expect(timeLeft(at(26, 0, { rate: 0 }), never)).toEqual({ kind: "away" });
  expect(timeLeft({ ...at(28, 0.5), value: null }, never)).toEqual({ kind: "not known" });
  expect(timeLeft({ ...at(28, 0.5), deviation: null }, never)).toEqual({ kind: "not known" });
});

test("is never negative, and the earlier end comes first", () => {
  const number = fc.double({ noNaN: true, noDefaultInfinity: true, min: -60, max: 60 });
  fc.assert(
    fc.property(
      number,
      number,
      fc.boolean(),
      fc.double({ noNaN: true, min: 0, max: 2 }),
      (value, rate, isFast, noise) => {
        const deviation = value > 27 ? (value - 27) / 2 : value < 24 ? (value - 24) / 2 : 0;
        const left = timeLeft(
          at(value, deviation, { rate, isFast, recent: course(value, rate, 6, noise) }),
          never,
        );
        if (left.kind !== "reaches") return true;
        return left.from >= 0 && (left.to === null || left.from <= left.to);
      },
    ),
  );
});
