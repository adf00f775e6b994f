import { describe, expect, test } from "vitest";
import { wallTime } from "#core/time/wall-time.ts";

// Clock changes of Europe/London in 2026: 29 March 01:00 UTC and 25 October 01:00 UTC. Source: IANA time zone database.
const at = (text: string) => Date.parse(text);

describe("site time in a sentence", () => {
  const seen = at("2026-03-02T06:30:00Z");
  test.each([
    ["the same site day", "2026-03-02T01:45:00Z", "Europe/London", "01:45"],
    ["this week", "2026-02-28T23:05:00Z", "Europe/London", "Sat 23:05"],
    ["longer ago", "2026-02-11T23:05:00Z", "Europe/London", "11 Feb 23:05"],
    ["another year", "2025-12-31T12:00:00Z", "Europe/London", "31 Dec 2025 12:00"],
    ["in the site's zone, not the reader's", "2026-03-02T01:45:00Z", "Asia/Tokyo", "10:45"],
  ])("%s", (_claim, text, zone, words) => {
    expect(wallTime(at(text), zone, seen)).toBe(words);
  });

  test("the hour that comes twice is told apart", () => {
    const morning = at("2026-10-25T08:00:00Z");
    expect(wallTime(at("2026-10-25T00:30:00Z"), "Europe/London", morning)).toBe("01:30 (UTC+01:00)");
    expect(wallTime(at("2026-10-25T01:30:00Z"), "Europe/London", morning)).toBe("01:30 (UTC+00:00)");
    expect(wallTime(at("2026-10-25T02:30:00Z"), "Europe/London", morning)).toBe("02:30");
  });
});
