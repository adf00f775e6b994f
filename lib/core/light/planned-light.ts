/** The light that was planned for a day, and the light of the home latitude on that date. */
import { Temporal } from "temporal-polyfill";
import { dayLength } from "../chemistry/day-length.ts";
import { inForce } from "../time/in-force.ts";
import { HOUR, type Instant } from "../time/instant.ts";
import { monthBracket } from "../time/site-time.ts";

/** A schedule: hours on the 15th of each month (or one for all year), the local clock time of their middle. */
export interface LightSchedule {
  readonly hours: readonly number[];
  /** "13:00". */
  readonly middle: string;
  /** Degrees north of the home water, null where the plan follows none. */
  readonly latitude: number | null;
  /** Days by which the animals' calendar runs ahead of the site's: 182 for animals kept on the other hemisphere's. */
  readonly shiftDays: number;
}

/** Planned hours on the site day that holds `at`: linear between the 15ths, one value all year. NaN unless there are 1 or 12. */
export function plannedHours({ hours }: Pick<LightSchedule, "hours">, at: Instant, zone: string): number {
  if (hours.length === 1) return hours[0] ?? Number.NaN;
  const { before, after, start, end } = monthBracket(at, zone);
  const [a, b] = [hours[before] ?? Number.NaN, hours[after] ?? Number.NaN];
  return a + ((b - a) * (at - start)) / (end - start);
}

/** The planned middle of the light on the site day that begins at `start`: a local clock time, so it moves with the clock change. */
export function plannedMiddle(
  { middle }: Pick<LightSchedule, "middle">,
  start: Instant,
  zone: string,
): Instant {
  const date = Temporal.Instant.fromEpochMilliseconds(start).toZonedDateTimeISO(zone).toPlainDate();
  return date.toZonedDateTime({ timeZone: zone, plainTime: Temporal.PlainTime.from(middle) })
    .epochMilliseconds;
}

/** Hours of daylight at a latitude on the date of `at`, shifted by days; null where the latitude is not one. Source: dayLength. */
export function nativeHours(latitude: number, shiftDays: number, at: Instant, zone: string): number | null {
  const date = Temporal.Instant.fromEpochMilliseconds(at)
    .toZonedDateTimeISO(zone)
    .toPlainDate()
    .add({ days: shiftDays });
  return dayLength({ latitude, longitude: 0, date: date.toString() }).value;
}

/** A schedule with the time in which it holds. */
export interface DatedSchedule extends LightSchedule {
  readonly validFrom: Instant;
  readonly validTo: Instant | null;
  readonly recordedAt: Instant;
}

/** The schedule in force at an instant: the one that began last, then the one recorded last; null where none is. */
export const scheduleAt = <T extends DatedSchedule>(schedules: readonly T[], at: Instant): T | null =>
  inForce(schedules, at) ?? null;

/** The light planned for one site day. */
export interface PlannedLight {
  readonly schedule: LightSchedule;
  readonly from: Instant;
  readonly to: Instant;
}

/** The light planned for the site day [start, end): hours about their middle; null where no schedule is in force as the day begins. */
export function plannedLight(
  schedules: readonly DatedSchedule[],
  { start, end }: { readonly start: Instant; readonly end: Instant },
  zone: string,
): PlannedLight | null {
  const schedule = scheduleAt(schedules, start);
  if (!schedule) return null;
  const half = (plannedHours(schedule, (start + end) / 2, zone) * HOUR) / 2;
  const middle = plannedMiddle(schedule, start, zone);
  return { schedule, from: middle - half, to: middle + half };
}
