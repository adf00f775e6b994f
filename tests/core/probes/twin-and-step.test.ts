import { describe, expect, test } from "vitest";
import { findSteps, stepAt } from "#core/probes/step.ts";
import { twinVerdict } from "#core/probes/twin.ts";
import { DAY, HOUR, MINUTE } from "#core/time/instant.ts";

const days = (differences: readonly number[]) =>
  differences.map((difference, i) => ({ at: i * DAY, difference }));
const noise = (i: number) => 0.01 * Math.sin(i * 12.9898) * 2;

describe("two probes at one place", () => {
  test("nothing is said before five days have taught how they differ", () => {
    expect(twinVerdict(days([0, 0, 0, 0, 0]), 0.03)).toBeNull();
  });
  test("probes that keep their difference agree, whatever it is", () => {
    const verdict = twinVerdict(days(Array.from({ length: 60 }, (_, i) => 0.4 + noise(i))), 0.03);
    expect(verdict?.moved).toBeNull();
    expect(verdict?.centre).toBeCloseTo(0.4, 1);
  });
  // CUSUM k 0.5, h 5 catches a step of one spread in 10.4 days on average (Montgomery, Introduction to Statistical Quality Control).
  test("a step of one spread is found in about ten days, and told when it began", () => {
    const verdict = twinVerdict(days([0, 0, 0, 0, 0, 0, ...Array.from({ length: 15 }, () => 0.03)]), 0.03);
    expect(verdict?.moved).toBe((6 + 10) * DAY);
    expect(verdict?.began).toBe(6 * DAY);
    expect(verdict?.apart).toBeCloseTo(0.03, 12);
  });
  test("one wild day does not trip it", () => {
    expect(twinVerdict(days([0, 0, 0, 0, 0, 0, 4, 0, 0, 0]), 0.5)?.moved).toBe(null);
  });
  test("it counts both ways", () => {
    expect(twinVerdict(days([0, 0, 0, 0, 0, -0.2, -0.2, -0.2]), 0.03)?.moved).not.toBeNull();
  });
});

describe("a calibration leaves a step", () => {
  // pH with a day curve of 0.1, calibrated on day 4 at 10:00 by -0.32.
  const CALIBRATED = 4 * DAY + 10 * HOUR;
  const points = Array.from({ length: 7 * 288 }, (_, i) => {
    const at = i * 5 * MINUTE;
    const day = 0.1 * Math.sin((2 * Math.PI * at) / DAY);
    return { at, value: 8.2 + day + noise(i) / 4 - (at >= CALIBRATED ? 0.32 : 0) };
  });
  test("its size is told, less what the hour does every day", () => {
    expect(stepAt(points, CALIBRATED)).toBeCloseTo(-0.32, 1);
    expect(stepAt(points, CALIBRATED)).toBeGreaterThan(-0.34);
  });
  test("it is the only one found", () => {
    const found = findSteps(points, 3 * DAY, 6 * DAY, 0.1);
    expect(found).toHaveLength(1);
    expect(Math.abs((found[0]?.at ?? 0) - CALIBRATED)).toBeLessThanOrEqual(HOUR);
  });
  test("the day curve alone gives none", () => {
    expect(findSteps(points, 1 * DAY, 3.5 * DAY, 0.1)).toEqual([]);
  });
  test("where readings are missing nothing is said", () => {
    expect(stepAt(points, 100 * DAY)).toBeNull();
    expect(stepAt(points.slice(0, 300), 5 * HOUR)).toBeNull();
  });
});
