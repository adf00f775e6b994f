/** How the items of a month lie on its days. */
import type { CalendarItem, CalendarView } from "#contract/calendar.ts";

/** A span's mark on one of its days: named on its first day of the month and of each week, a plain bar between. */
export interface Bar {
  readonly item: CalendarItem;
  readonly named: boolean;
}
export interface DayOfMonth {
  readonly day: CalendarView["days"][number];
  /** What begins on it, or ends, or is of a moment. */
  readonly items: readonly { readonly item: CalendarItem; readonly edge: "" | "begins" | "ends" }[];
  readonly bars: readonly Bar[];
}

/** Whether it lasts over more than one date. */
export const isSpan = (item: CalendarItem): boolean =>
  item.open || item.fromDate === null || (item.toDate !== null && item.toDate !== item.fromDate);

const covers = (item: CalendarItem, date: string) =>
  (item.fromDate === null || item.fromDate <= date) && (item.open || (item.toDate ?? date) >= date);

/** The days of a month with what lies on each; spans in the same order on every day, so that their bars run on. */
export function daysOf(view: Pick<CalendarView, "days" | "items">): readonly DayOfMonth[] {
  const spans = view.items.filter(isSpan);
  return view.days.map((day, i) => ({
    day,
    items: view.items.flatMap((item) => {
      const edge = !isSpan(item) ? "" : item.fromDate === day.date ? "begins" : "ends";
      const isHere = edge === "ends" ? item.toDate === day.date : item.fromDate === day.date;
      return isHere ? [{ item, edge } as const] : [];
    }),
    bars: spans
      .filter((item) => covers(item, day.date))
      .map((item) => ({ item, named: i === 0 || day.weekday === 1 || item.fromDate === day.date })),
  }));
}

/** Weeks from Monday to Sunday; null where a day is of another month. */
export function weeksOf(days: readonly DayOfMonth[]): readonly (readonly (DayOfMonth | null)[])[] {
  const before = (days[0]?.day.weekday ?? 1) - 1;
  const cells = [...Array.from({ length: before }, () => null), ...days];
  const weeks = Array.from({ length: Math.ceil(cells.length / 7) }, (_, week) =>
    cells.slice(week * 7, week * 7 + 7),
  );
  return weeks.map((week) => [...week, ...Array.from({ length: 7 - week.length }, () => null)]);
}
