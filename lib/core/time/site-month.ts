/** A month of a site's own days. */
import { Temporal } from "temporal-polyfill";
import { HOUR, type Instant } from "./instant.ts";

export interface MonthDay {
  /** "2026-10-25". */
  readonly date: string;
  readonly start: Instant;
  readonly end: Instant;
  /** 23, 24 or 25. */
  readonly hours: number;
  /** 1 Monday to 7 Sunday. */
  readonly weekday: number;
}

/** "2026-10-25": the date at a site. */
export const siteDate = (at: Instant, zone: string): string =>
  Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone).toPlainDate().toString();

/** The days of a month ("2026-10") in a zone, from one local midnight to the next. Throws a RangeError where the text is no month. */
export function siteMonth(month: string, zone: string): readonly MonthDay[] {
  const first = Temporal.PlainYearMonth.from(month);
  return Array.from({ length: first.daysInMonth }, (_, i) => {
    const date = first.toPlainDate({ day: i + 1 });
    const start = date.toZonedDateTime({ timeZone: zone }).epochMilliseconds;
    const end = date.add({ days: 1 }).toZonedDateTime({ timeZone: zone }).epochMilliseconds;
    return { date: date.toString(), start, end, hours: (end - start) / HOUR, weekday: date.dayOfWeek };
  });
}

/** The month so many months on: "2026-12" and 1 is "2027-01". */
export const monthAfter = (month: string, months: number): string =>
  Temporal.PlainYearMonth.from(month).add({ months }).toString();
