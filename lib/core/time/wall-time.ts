import { Temporal } from "temporal-polyfill";
import type { Instant } from "./instant.ts";

const two = (n: number) => String(n).padStart(2, "0");
const WEEKDAYS = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"] as const;
const MONTHS = ["Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"] as const;

/**
 * Clock time at a site for a sentence: "01:45" on the site day of `seenFrom`, "Tue 01:45" within six days of it, else
 * "24 Nov 01:45", with the year where it differs. In the hour that an autumn clock change doubles the offset is added,
 * because 01:30 comes twice then.
 */
export function wallTime(at: Instant, zone: string, seenFrom: Instant): string {
  const there = Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone);
  const here = Temporal.Instant.fromEpochMilliseconds(seenFrom).toZonedDateTimeISO(zone).toPlainDate();
  const date = there.toPlainDate();
  const clock = `${two(there.hour)}:${two(there.minute)}${isDoubled(there) ? ` (UTC${there.offset})` : ""}`;
  if (date.equals(here)) return clock;
  const days = Math.abs(here.since(date, { largestUnit: "day" }).days);
  if (days <= 6 && Temporal.PlainDate.compare(date, here) < 0)
    return `${WEEKDAYS[date.dayOfWeek - 1]} ${clock}`;
  const year = date.year === here.year ? "" : ` ${date.year}`;
  return `${date.day} ${MONTHS[date.month - 1]}${year} ${clock}`;
}

/** "25 Oct": the date at a site. */
export function dayMonth(at: Instant, zone: string): string {
  const date = Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone);
  return `${date.day} ${MONTHS[date.month - 1]}`;
}

function isDoubled(there: Temporal.ZonedDateTime): boolean {
  const plain = there.toPlainDateTime();
  const earlier = plain.toZonedDateTime(there.timeZoneId, { disambiguation: "earlier" });
  const later = plain.toZonedDateTime(there.timeZoneId, { disambiguation: "later" });
  return earlier.epochMilliseconds !== later.epochMilliseconds;
}

/** A length of time in words: "45 s", "20 min", "3 h", "2 d"; one decimal where a whole number would mislead. */
export function duration(ms: number): string {
  if (ms < 60_000) return `${Math.round(ms / 1_000)} s`;
  if (ms < 3_600_000) return `${trim(ms / 60_000)} min`;
  if (ms < 172_800_000) return `${trim(ms / 3_600_000)} h`;
  return `${trim(ms / 86_400_000)} d`;
}

const trim = (n: number) =>
  n >= 10 || Math.abs(n - Math.round(n)) < 0.05 ? String(Math.round(n)) : n.toFixed(1);
