import { describe, expect, test } from "vitest";
import {
  emptyReference,
  endDay,
  learnAnew,
  missAllowed,
  takeHour,
  usualAt,
} from "#core/drift/daily-reference.ts";
import { emptyTwin, TWIN_LIMIT, takeDifference } from "#core/drift/twin.ts";
import { emptyTrend, takeDay } from "#core/drift/weekly-trend.ts";
import { steadyRandom } from "#tests/bench/bench-row.ts";
import { cusumLimit } from "./cusum-run-length.ts";

describe("what is usual at this hour", () => {
  const day = (hour: number) => 8.1 + 0.05 * Math.sin((2 * Math.PI * hour) / 24);
  function afterDays(days: number) {
    const reference = emptyReference();
    for (let d = 0; d < days; d++) {
      for (let hour = 0; hour < 24; hour++) takeHour(reference, hour, day(hour) + 0.002 * (d % 3), false);
      endDay(reference);
    }
    return reference;
  }

  test("is not known before three days, and then the median of those hours, linear between their middles", () => {
    expect(usualAt(afterDays(2), 6.5)).toBeNull();
    const reference = afterDays(3);
    expect(usualAt(reference, 6.5)).toBeCloseTo(day(6) + 0.002, 9);
    expect(usualAt(reference, 7)).toBeCloseTo((day(6) + day(7)) / 2 + 0.002, 9);
    expect(usualAt(reference, 0)).toBeCloseTo((day(23) + day(0)) / 2 + 0.002, 9);
  });

  test("allows four times the largest miss of a usual day, and never less than what is practical", () => {
    expect(missAllowed(afterDays(5), 0.1)).toBeNull();
    const reference = afterDays(9);
    expect(missAllowed(reference, 0.1)).toBe(0.1);
    expect(missAllowed(reference, 0)).toBeGreaterThan(0);
    expect(missAllowed(reference, 0)).toBeLessThan(0.02);
  });

  test("does not learn from hours in which a finding is open, and forgets when told", () => {
    const reference = afterDays(7);
    for (let hour = 0; hour < 24; hour++) takeHour(reference, hour, 7, true);
    endDay(reference);
    expect(usualAt(reference, 12.5)).toBeCloseTo(day(12) + 0.002, 2);
    learnAnew(reference);
    expect(usualAt(reference, 12.5)).toBeNull();
  });
});

describe("a week", () => {
  const lastOf = (values: readonly number[], floor: number) => {
    const trend = emptyTrend();
    return values.map((value) => takeDay(trend, value, floor)).at(-1);
  };

  test("that goes one way by more than is practical is a trend; ups and downs are none", () => {
    const down = [8.1, 8.06, 8.01, 7.97, 7.92, 7.88, 7.84];
    expect(lastOf(down, 0.06)).toMatchObject({ isTrend: true, days: 7 });
    expect(lastOf(down, 0.06)?.change).toBeCloseTo(-0.26, 1);
    expect(lastOf(down, 0.1)?.isTrend).toBe(false);
    expect(lastOf([8.1, 7.9, 8.2, 7.8, 8.1, 7.7, 8.0], 0.01)?.isTrend).toBe(false);
    expect(lastOf(down.slice(1), 0.06)).toBeNull();
  });

  test("is held against the weeks before once they are known", () => {
    const season = Array.from({ length: 40 }, (_, i) => 10 + 0.1 * i);
    expect(lastOf(season, 0.2)?.isTrend).toBe(false);
    expect(lastOf([...season, ...Array.from({ length: 7 }, (_, i) => 14 + i)], 0.2)?.isTrend).toBe(true);
  });
});

describe("a pair of probes", () => {
  test("has a limit of one false call in a year of six-hour medians", () => {
    expect(TWIN_LIMIT).toBeCloseTo(cusumLimit(0.5, 4 * 365), 1);
  });

  function firstApart(difference: (hour: number) => number, hours: number): number {
    const next = steadyRandom(5);
    let twin = emptyTwin;
    for (let hour = 0; hour < hours; hour++) {
      const noise = 0.02 * (next() + next() + next() - 1.5);
      const taken = takeDifference(twin, hour, 0.1 + noise + difference(hour), 0.1);
      twin = taken.twin;
      if (taken.verdict?.isApart) return hour;
    }
    return -1;
  }

  test("that always differs by the same does not disagree; one that moves away does, and when it is back no more", () => {
    expect(firstApart(() => 0, 24 * 60)).toBe(-1);
    const drift = firstApart((hour) => Math.max(0, hour - 240) * (0.03 / 24), 24 * 40);
    expect(drift).toBeGreaterThan(240 + 2 * 24);
    expect(drift).toBeLessThan(240 + 7 * 24);
    const step = firstApart((hour) => (hour >= 240 ? 0.4 : 0), 24 * 40);
    expect(step - 240).toBeLessThan(24);
  });
});
