import { expect, it } from "vitest";
import { openStretch } from "#core/fit/index.ts";
import { lifeSentence } from "#core/home-water/index.ts";
import { MINUTE } from "#core/time/instant.ts";

const life = {
  label: "Salinity",
  fits: [{ basis: "native", share: 0.874 }],
  good: 610,
  possible: 1000,
  unread: [],
} as const;

it("tells the share inside its own range apart from how much was read", () => {
  expect(lifeSentence(life)).toBe(
    "Salinity: inside its native range for 87 % of the time that could be compared; readings cover 61 % of its time.",
  );
  const two = [...life.fits, { basis: "advice", share: 1 }] as const;
  expect(lifeSentence({ ...life, fits: two })).toContain(
    "87 % of the time that could be compared; inside the range advised for it for 100 % of the time that could be",
  );
});
it("names the systems in which nothing was read, and rounds neither up to all nor down to nothing", () => {
  const unread = [
    { systemName: "Pool 2", days: 41 },
    { systemName: "Transport box", days: 0 },
    { systemName: "Quarantine", days: 1 },
  ];
  expect(lifeSentence({ ...life, good: 999.9, unread })).toBe(
    "Salinity: inside its native range for 87 % of the time that could be compared; readings cover > 99 % of its time. No readings in Pool 2 (41 days), Transport box (less than a day), Quarantine (1 day).",
  );
});
it("says where there is no range, no reading, no time yet", () => {
  expect(lifeSentence({ ...life, fits: [] })).toContain(
    "no range of its own to compare with; readings cover 61 %",
  );
  expect(lifeSentence({ ...life, fits: [{ basis: "native", share: null }], good: 0 })).toBe(
    "Salinity: no readings could be compared with its range; readings cover 0 % of its time.",
  );
  expect(lifeSentence({ ...life, good: 0, possible: 0 })).toContain("no time for readings yet");
});
it("a stretch that only counts is open on both sides and holds whole quarter hours", () => {
  expect(openStretch(7, 1 * MINUTE, 46 * MINUTE)).toEqual([
    {
      stream: 7,
      from: 15 * MINUTE,
      to: 60 * MINUTE,
      start: 15 * MINUTE,
      end: 60 * MINUTE,
      low: null,
      high: null,
    },
  ]);
  expect(openStretch(7, 1 * MINUTE, 2 * MINUTE)).toEqual([]);
});
