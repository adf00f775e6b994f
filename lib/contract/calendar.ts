/** What is dated for the systems of a month: expected, planned, due and done. */
import * as z from "zod";
import { instant, named } from "./places.ts";

const date = z.string().describe("date at the system's site, like 2026-10-25");
const month = z.string().regex(/^20\d\d-(0[1-9]|1[0-2])$/, "a month like 2026-10");

export const calendarQuery = z.strictObject({
  month: month.optional().describe("this month where it is left out"),
  system: named.optional().describe("a system's short name; every system where it is left out"),
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
  from: instant.nullable().describe("null: its beginning is not known"),
  fromDate: date.nullable(),
  to: instant.nullable().describe("of a span that ends; null: a moment, or open"),
  toDate: date.nullable(),
  open: z.boolean().describe("goes on without a known end"),
  href: z.string().describe("where it stands in full"),
});
export type CalendarItem = z.infer<typeof calendarItem>;

/** GET /calendar. */
export const calendarView = z.object({
  now: instant,
  today: date,
  zone: z.string().describe("of the days; the dates of an item are those at its own site"),
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
  items: z.array(calendarItem).describe("that touch the month, by their beginning"),
  systems: z.array(z.object({ system: z.string(), name: z.string() })).describe("that may be chosen"),
});
export type CalendarView = z.infer<typeof calendarView>;
