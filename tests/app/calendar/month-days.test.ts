import { describe, expect, it } from "vitest";
import { daysOf, weeksOf } from "#app/calendar/_parts/month-days.ts";
import type { CalendarItem } from "#contract/calendar.ts";
import { siteMonth } from "#core/time/site-month.ts";

const days = siteMonth("2026-11", "Europe/London").map(({ end: _end, ...day }) => day);
const item = (change: Partial<CalendarItem>): CalendarItem => ({
  id: "a",
  kind: "watch",
  label: "awaited",
  system: "kelp",
  systemName: "Kelp",
  says: "a birth",
  stand: "going on",
  from: 1,
  fromDate: "2026-11-03",
  to: null,
  toDate: null,
  open: false,
  href: "/",
  ...change,
});
const lain = (change: Partial<CalendarItem>) =>
  daysOf({ days, items: [item(change)] }).flatMap(({ day, items, bars }) =>
    items.length + bars.length === 0
      ? []
      : [
          `${day.date.slice(8)}${items.map(({ edge }) => ` ${edge || "on"}`).join("")}${bars.map(({ named }) => (named ? " bar+" : " bar")).join("")}`,
        ],
  );

describe("a month's items on its days", () => {
  it("put a moment on its day, and a span on each of its days with its beginning and end", () => {
    expect(lain({})).toEqual(["03 on"]);
    // The 9th of November 2026 is a Monday: the bar says its name again.
    expect(lain({ fromDate: "2026-11-06", toDate: "2026-11-09", to: 2 })).toEqual([
      "06 begins bar+",
      "07 bar",
      "08 bar",
      "09 ends bar+",
    ]);
  });
  it("run on over the month's edges where an edge lies outside or is not known", () => {
    expect(lain({ fromDate: null, toDate: "2026-11-02", to: 2 })).toEqual(["01 bar+", "02 ends bar+"]);
    expect(lain({ fromDate: "2026-11-29", open: true })).toEqual(["29 begins bar+", "30 bar+"]);
    expect(lain({ fromDate: "2026-10-02", open: true })).toHaveLength(30);
  });
  it("make weeks from Monday to Sunday with every day once", () => {
    const weeks = weeksOf(daysOf({ days, items: [] }));
    expect(weeks.map((week) => week.length)).toEqual([7, 7, 7, 7, 7, 7]);
    expect(weeks[0]?.map((of) => of?.day.date.slice(8) ?? "")).toEqual(["", "", "", "", "", "", "01"]);
    expect(weeks.flat().filter((of) => of !== null)).toHaveLength(30);
  });
});
