/** What is dated for the systems of a month: expected, planned, due and done. */
import * as z from "zod";
import { instant, named } from "./places.ts";

const date = z.string().describe("date at the system's site, like 2026-10-25");
const month = z.string().regex(/^20\d\d-(0[1-9]|1[0-2])$/, "a month like 2026-10");

export const calendarQuery = z.strictObject({
  month: month.optional().describe("default: this month"),
  system: named.optional().describe("a system's short name; default: every system"),
});
export type CalendarQuery = z.output<typeof calendarQuery>;

export const CALENDAR_KINDS = [
  "watch",
  "breeding",
  "birth",
  "stage",
  "move",
  "set-point",
  "light",
  "calibration",
  "work",
] as const;

const calendarItem = z.object({
  id: z.string(),
  kind: z.enum(CALENDAR_KINDS),
  label: z.string().describe("the kind in words"),
  system: z.string(),
  systemName: z.string(),
  says: z.string(),
  stand: z.enum(["expected", "planned", "due", "done", "going on", "overdue"]),
  from: instant.nullable().describe("null if the start is not known"),
  fromDate: date.nullable(),
  to: instant.nullable().describe("end of the span; null for a single moment or an open end"),
  toDate: date.nullable(),
  open: z.boolean().describe("continues with no known end"),
  href: z.string().describe("page with the full record"),
});
export type CalendarItem = z.infer<typeof calendarItem>;

/** GET /calendar. */
export const calendarView = z.object({
  now: instant,
  today: date,
  zone: z.string().describe("time zone of the days; the dates of an item are those of its own site"),
  month,
  before: month,
  after: month,
  system: z.string().nullable(),
  name: z.string().nullable(),
  days: z.array(
    z.object({
      date,
      start: instant,
      hours: z.number().describe("23 or 25 where the clocks change"),
      weekday: z.int().describe("1 Monday to 7 Sunday"),
    }),
  ),
  items: z.array(calendarItem).describe("those that touch the month, by start"),
  systems: z.array(z.object({ system: z.string(), name: z.string() })).describe("systems to choose from"),
});
export type CalendarView = z.infer<typeof calendarView>;
