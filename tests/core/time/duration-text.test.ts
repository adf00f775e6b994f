import fc from "fast-check";
import { expect, test } from "vitest";
import { ageText } from "#core/time/age-text.ts";
import { durationText, hoursText, longestText } from "#core/time/duration-text.ts";
import { DAY, HOUR, MINUTE, SECOND } from "#core/time/instant.ts";

test.each([
  [0, "0 s"],
  [450, "450 ms"],
  [45 * SECOND, "45 s"],
  [90 * SECOND, "1 min 30 s"],
  [10 * MINUTE + 59 * SECOND, "10 min"],
  [42 * MINUTE, "42 min"],
  [HOUR, "1 h"],
  [2 * HOUR + 10 * MINUTE, "2 h 10 min"],
  [24 * HOUR, "24 h"],
  [3 * DAY, "3 days"],
  [3 * DAY + 8 * HOUR, "3 days 8 h"],
  [12 * DAY + 8 * HOUR, "12 days"],
  [-5, "0 s"],
])("%i ms is %s", (ms, words) => expect(durationText(ms)).toBe(words));

test.each([
  [59_999, "1 min"],
  [59 * MINUTE + 1, "1 h"],
  [2 * HOUR + 1, "2 h 1 min"],
  [47 * HOUR + 59 * MINUTE + 1, "2 days"],
  [12 * DAY + 1, "13 days"],
  [0.4, "1 ms"],
])("at most %i ms is %s", (ms, words) => expect(longestText(ms)).toBe(words));

test("an age has one unit and never looks older than it is", () => {
  const ages = [450, 5_999, 61_000, 42 * MINUTE + 59_000, 11 * HOUR, 47 * HOUR, 72 * HOUR];
  expect(ages.map(ageText)).toEqual(["0 s", "5 s", "1 min", "42 min", "11 h", "47 h", "3 days"]);
});

test("hours of a day are written to the minute", () => {
  expect([0, 0.004, 0.5, 10.8667, 24].map(hoursText)).toEqual([
    "0 h",
    "0 h",
    "30 min",
    "10 h 52 min",
    "24 h",
  ]);
});

const OF: Readonly<Record<string, number>> = { ms: 1, s: SECOND, min: MINUTE, h: HOUR, days: DAY };
const read = (text: string): number =>
  [...text.matchAll(/(\d+) (ms|s|min|h|days)/g)].reduce(
    (sum, [, count, unit]) => sum + Number(count) * (OF[unit ?? ""] ?? Number.NaN),
    0,
  );

test("a length is rounded down, one at most rounded up, each by less than a last unit", () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 40 * DAY }), (ms) => {
      const [less, more] = [read(durationText(ms)), read(longestText(ms))];
      expect(less).toBeLessThanOrEqual(ms);
      expect(more).toBeGreaterThanOrEqual(ms);
      for (const near of [less, more]) expect(Math.abs(near - ms)).toBeLessThanOrEqual(Math.max(1, ms / 10));
    }),
  );
});
