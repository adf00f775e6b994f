import { describe, expect, test } from "vitest";
import { lastLocalHour, siteDay, siteDayWalker } from "#core/time/site-time.ts";

const LONDON = "Europe/London";
const HOUR = 3_600_000;
const hoursOf = (at: number) => {
  const { start, end } = siteDay(at, LONDON);
  return (end - start) / HOUR;
};

describe("site days (IANA tz database: Europe/London changes on 2026-03-29 and 2026-10-25)", () => {
  test("have 23, 24 or 25 hours", () => {
    expect(hoursOf(Date.UTC(2026, 2, 29, 12))).toBe(23);
    expect(hoursOf(Date.UTC(2026, 9, 24, 12))).toBe(24);
    expect(hoursOf(Date.UTC(2026, 9, 25, 12))).toBe(25);
  });
  test("begin at local midnight", () =>
    expect(siteDay(Date.UTC(2026, 6, 1, 12), LONDON).start).toBe(Date.UTC(2026, 5, 30, 23)));
  test("a walker says the same in any order", () => {
    const walk = siteDayWalker(LONDON);
    for (const at of [
      Date.UTC(2026, 9, 25, 0, 30),
      Date.UTC(2026, 9, 25, 23, 59),
      Date.UTC(2026, 9, 24, 22, 59),
      Date.UTC(2026, 9, 26),
    ])
      expect(walk(at)).toEqual(siteDay(at, LONDON));
  });
});

describe("the last 18:00", () => {
  test("is today's in the evening and yesterday's in the morning", () => {
    expect(lastLocalHour(Date.UTC(2026, 6, 2, 19), LONDON, 18)).toBe(Date.UTC(2026, 6, 2, 17));
    expect(lastLocalHour(Date.UTC(2026, 6, 2, 6), LONDON, 18)).toBe(Date.UTC(2026, 6, 1, 17));
  });
  test("is right across the clock change", () => {
    expect(lastLocalHour(Date.UTC(2026, 9, 25, 7), LONDON, 18)).toBe(Date.UTC(2026, 9, 24, 17));
    expect(lastLocalHour(Date.UTC(2026, 9, 25, 0, 30), LONDON, 18)).toBe(Date.UTC(2026, 9, 24, 17));
    expect(lastLocalHour(Date.UTC(2026, 9, 26, 7), LONDON, 18)).toBe(Date.UTC(2026, 9, 25, 18));
  });
});
