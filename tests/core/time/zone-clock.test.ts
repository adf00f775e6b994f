import fc from "fast-check";
import { expect, test } from "vitest";
import { clockOf, clockText } from "#core/time/zone-clock.ts";

const at = (text: string) => Date.parse(text);

test("a field's text and every other writing are of one wall", () => {
  const clock = clockOf("Europe/London");
  const moment = at("2026-07-01T06:05:00Z");
  expect(clock.wall(moment)).toBe("2026-07-01T07:05");
  expect(clock.full(moment)).toBe("Wed 1 Jul 2026, 07:05 BST");
  expect(clock.dayMonth(moment)).toBe("1 Jul");
  expect(clock.month(moment)).toBe(7);
  expect(clock.hour(moment + 30_000)).toBeCloseTo(7 + 5.5 / 60, 9);
});

// Lord Howe Island sets its clocks by half an hour: 2026-04-05 02:00 becomes 01:30 (15:00 UTC the day before). Source: IANA time zone database.
test("also half an hour that comes twice is told apart", () => {
  const clock = clockOf("Australia/Lord_Howe");
  const first = at("2026-04-04T14:45:00Z");
  expect(clock.near(first, first)).toBe("01:45 (UTC+11:00)");
  expect(clock.near(first + 30 * 60_000, first)).toBe("01:45 (UTC+10:30)");
  expect(clock.near(first + 60 * 60_000, first)).toBe("02:15");
});

test("minutes after midnight go round", () => {
  expect([465, 1_440, -5, 1_500].map(clockText)).toEqual(["07:45", "00:00", "23:55", "01:00"]);
});

test("every instant of a decade has a weekday and a date that agree", () => {
  fc.assert(
    fc.property(
      fc.integer({ min: at("2020-01-01T00:00:00Z"), max: at("2030-01-01T00:00:00Z") }),
      (moment) => {
        const names = ["Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"];
        const date = new Date(moment);
        expect(clockOf("UTC").day(moment)).toContain(`${names[date.getUTCDay()]} ${date.getUTCDate()} `);
        expect(clockOf("UTC").wall(moment)).toBe(date.toISOString().slice(0, 16));
      },
    ),
  );
});
