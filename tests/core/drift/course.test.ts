import { describe, expect, test } from "vitest";
import { emptyCourse, takeLevel, takePause, takeReading, takeRest } from "#core/drift/course.ts";
import { courseLimitsFor } from "#core/drift/course-limits.ts";
import { steadyRandom } from "#tests/bench/bench-row.ts";

// Series are generated; what must and must not be called is the definition of each rule.
const [MINUTE, HOUR] = [60_000, 3_600_000];
const PH = courseLimitsFor("ph");
if (!PH) throw new Error("the course of pH is watched");

/** Readings every five minutes: 8.1 with a spread of about 0.01, changed by `change`. */
function departures(count: number, change: (i: number) => number, spread = 0.01) {
  const next = steadyRandom(3);
  const course = emptyCourse();
  return Array.from({ length: count }, (_, i) => {
    const noise = spread * (next() + next() + next() - 1.5);
    return takeReading(course, i * 5 * MINUTE, 8.1 + noise + change(i), PH as NonNullable<typeof PH>);
  });
}

describe("a step", () => {
  test("is found at its first reading, once, and what follows at the new level is custom again", () => {
    const found = departures(600, (i) => (i >= 400 ? -0.3 : 0));
    expect(found.findIndex((each) => each?.isNew)).toBe(400);
    expect(found.filter((each) => each?.isNew)).toHaveLength(1);
    expect(found.slice(404).some((each) => each?.isOut)).toBe(false);
    expect(found[400]?.size).toBeCloseTo(-0.3, 1);
  });

  test("smaller than a keeper would act on is none, however quiet the stream", () => {
    expect(departures(600, (i) => (i >= 400 ? 0.05 : 0), 0.0001).some((each) => each?.isOut)).toBe(false);
  });

  test("that is usual for a lively stream is none, however large", () => {
    expect(departures(600, (i) => (i >= 400 ? 0.3 : 0), 0.2).some((each) => each?.isOut)).toBe(false);
  });

  test("soon after another one and no larger is the same story; much larger is a new one", () => {
    const twice = (second: number) => departures(600, (i) => (i >= 400 ? 0.3 : 0) + (i >= 415 ? second : 0));
    expect(twice(0.3).filter((each) => each?.isNew)).toHaveLength(1);
    expect(twice(0.9).filter((each) => each?.isNew)).toHaveLength(2);
  });

  test("a steady ramp is no step", () => {
    expect(departures(600, (i) => Math.max(0, i - 400) * 0.01).some((each) => each?.isOut)).toBe(false);
  });
});

test("readings that jump to and fro are noise; a step is not, nor a ramp", () => {
  const noisy = departures(500, (i) => (i >= 400 ? (i % 2 === 0 ? 0.15 : -0.15) : 0));
  const first = noisy.findIndex((each) => each?.isNoisy);
  expect(first).toBeGreaterThan(403);
  expect(first).toBeLessThan(410);
  expect(departures(500, (i) => (i >= 400 ? 0.5 : 0)).some((each) => each?.isNoisy)).toBe(false);
  expect(departures(500, (i) => Math.max(0, i - 400) * 0.2).some((each) => each?.isNoisy)).toBe(false);
});

describe("rest", () => {
  function rests(same: (i: number) => boolean, count: number) {
    const course = emptyCourse();
    return Array.from({ length: count }, (_, i) => {
      course.n++;
      return takeRest(course, i * 5 * MINUTE, i > 0 && same(i), PH as NonNullable<typeof PH>);
    });
  }

  test("of a stream that always moves is stuck after six hours", () => {
    const found = rests((i) => i >= 500, 700);
    const first = found.findIndex((each) => each.held >= each.most);
    expect((first - 499) * 5 * MINUTE).toBe(6 * HOUR);
  });

  test("of a stream that rests for two hours every day is stuck after sixteen", () => {
    const found = rests((i) => i >= 1400 || i % 288 < 24, 1800);
    const first = found.findIndex((each) => each.held >= each.most);
    expect((first - 1399) * 5 * MINUTE).toBeGreaterThanOrEqual(15.5 * HOUR);
    expect((first - 1399) * 5 * MINUTE).toBeLessThanOrEqual(17 * HOUR);
  });
});

test("a pause of half an hour in a stream of five minutes is a gap; the same pace all along is none", () => {
  const course = emptyCourse();
  course.n = 100;
  for (let i = 0; i < 50; i++) expect(takePause(course, 5 * MINUTE)).toBe(false);
  expect(takePause(course, 30 * MINUTE)).toBe(true);
  const slow = emptyCourse();
  slow.n = 100;
  for (let i = 0; i < 50; i++) expect(takePause(slow, HOUR)).toBe(false);
});

test("a reading of less than a tenth of the usual one is counted as in air until it is back", () => {
  const course = emptyCourse();
  for (let i = 0; i < 100; i++) {
    course.n++;
    takeLevel(course, 53);
  }
  expect([takeLevel(course, 0.2), takeLevel(course, 0.3), takeLevel(course, 52)]).toEqual([1, 2, 0]);
});
