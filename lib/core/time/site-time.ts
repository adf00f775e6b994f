/** Site days and months: where a zone's midnights and mid-months fall. Pure; cached per zone because the evaluator asks millions of times. */
import { Temporal } from "temporal-polyfill";
import { DAY, type Instant } from "./instant.ts";

interface Span {
  readonly start: Instant;
  readonly end: Instant;
}

const zoned = (at: Instant, zone: string) =>
  Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone);

/** The site day that holds an instant: [local midnight, next local midnight); 23, 24 or 25 hours long. */
export function siteDay(at: Instant, zone: string): Span {
  const date = zoned(at, zone).toPlainDate();
  const start = date.toZonedDateTime({ timeZone: zone }).epochMilliseconds;
  const end = date.add({ days: 1 }).toZonedDateTime({ timeZone: zone }).epochMilliseconds;
  return { start, end };
}

/** Like siteDay, remembering the last answer: for callers that walk through time. */
export function siteDayWalker(zone: string): (at: Instant) => Span {
  let last: Span = { start: 0, end: 0 };
  return (at) => {
    if (at < last.start || at >= last.end) last = siteDay(at, zone);
    return last;
  };
}

export interface MonthBracket {
  /** Months 0..11 whose mid-month values surround the instant. */
  readonly before: number;
  readonly after: number;
  readonly start: Instant;
  readonly end: Instant;
}

/** The two mid-months (the 15th, local midnight) around an instant. */
export function monthBracket(at: Instant, zone: string): MonthBracket {
  const date = zoned(at, zone).toPlainDate();
  const middle = (d: Temporal.PlainDate) =>
    d.with({ day: 15 }).toZonedDateTime({ timeZone: zone }).epochMilliseconds;
  const first = date.day >= 15 ? date : date.subtract({ months: 1 });
  const second = first.with({ day: 1 }).add({ months: 1 });
  return { before: first.month - 1, after: second.month - 1, start: middle(first), end: middle(second) };
}

/** Like monthBracket, remembering the last answer. */
export function monthBracketWalker(zone: string): (at: Instant) => MonthBracket {
  let last: MonthBracket = { before: 0, after: 0, start: 0, end: 0 };
  return (at) => {
    if (at < last.start || at >= last.end) last = monthBracket(at, zone);
    return last;
  };
}

/** The last local clock time (hours) at or before an instant, e.g. the 18:00 a night is counted from. */
export function lastLocalHour(at: Instant, zone: string, hour: number): Instant {
  const now = zoned(at, zone);
  const today = now
    .toPlainDate()
    .toZonedDateTime({ timeZone: zone, plainTime: Temporal.PlainTime.from({ hour }) });
  if (today.epochMilliseconds <= at) return today.epochMilliseconds;
  const before = zoned(at - DAY / 2, zone).toPlainDate();
  const date = before.equals(now.toPlainDate()) ? before.subtract({ days: 1 }) : before;
  return date.toZonedDateTime({ timeZone: zone, plainTime: Temporal.PlainTime.from({ hour }) })
    .epochMilliseconds;
}
