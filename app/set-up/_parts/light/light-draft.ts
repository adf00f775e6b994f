/** What is typed of a light schedule, and the schedule that it makes. */

import { numberOf } from "#app/_components/controls/typed-number.ts";
import type { LightPlanView } from "#contract/light-plans.ts";
import { dayLength } from "#core/chemistry/day-length.ts";
import { clockText } from "#core/time/zone-clock.ts";

const DAY = 1440;

export interface LightDraft {
  /** The same clock times all year, or a length for each month about one middle. */
  readonly shape: "clock" | "months";
  readonly on: string;
  readonly off: string;
  readonly middle: string;
  /** Hours on the 15th, January first. */
  readonly months: readonly string[];
  /** Degrees north; empty where it follows no home. */
  readonly latitude: string;
  /** Days by which the animals' calendar runs ahead. */
  readonly shift: string;
}
type Schedule = Pick<LightPlanView, "hours" | "middle" | "latitude" | "shiftDays">;

/** Minutes after midnight of "07:45"; null for what is no clock time. */
function minutesOf(text: string): number | null {
  const [, hours, minutes] = /^([01]\d|2[0-3]):([0-5]\d)$/.exec(text.trim()) ?? [];
  return hours === undefined ? null : Number(hours) * 60 + Number(minutes);
}
const hoursText = (hours: number) => String(Math.round(hours * 100) / 100);

/** "07:45 to 18:15": when lamps go on and off for so many hours about a middle; "dark all day", "lit all day"; empty where either is not known. */
export function onOff(hours: number | null | undefined, middle: string): string {
  const at = minutesOf(middle);
  if (at === null || typeof hours !== "number" || hours < 0 || hours > 24) return "";
  if (hours === 0) return "dark all day";
  if (hours === 24) return "lit all day";
  return `${clockText(at - hours * 30)} to ${clockText(at + hours * 30)}`;
}

/** What a form begins with: the schedule in force, or ten hours about 13:00. */
export function lightDraft(plan: Schedule | null): LightDraft {
  const { hours, middle, latitude, shiftDays } = plan ?? {
    hours: [10],
    middle: "13:00",
    latitude: null,
    shiftDays: 0,
  };
  const [all = 0] = hours;
  const at = minutesOf(middle) ?? 0;
  const isClock = hours.length === 1 && all > 0 && all < 24;
  return {
    shape: isClock ? "clock" : "months",
    on: isClock ? clockText(at - all * 30) : "",
    off: isClock ? clockText(at + all * 30) : "",
    middle,
    months: Array.from({ length: 12 }, (_, i) => hoursText(hours[i] ?? all)),
    latitude: latitude === null ? "" : String(latitude),
    shift: String(shiftDays),
  };
}

/** What is wrong with a draft, by field; a field that is well is not named. */
export function lightWrong(draft: LightDraft): Readonly<Record<string, string>> {
  const wrong: Record<string, string> = {};
  if (draft.shape === "clock") {
    const [on, off] = [minutesOf(draft.on), minutesOf(draft.off)];
    if (on === null) wrong.on = "required, a time such as 07:45";
    if (off === null) wrong.off = "required, a time such as 18:15";
    else if (on === off)
      wrong.off =
        "same as the time they go on: for lamps that stay on or off all day, choose a length for each month";
  } else {
    if (minutesOf(draft.middle) === null) wrong.middle = "required, a time such as 13:00";
    draft.months.forEach((typed, i) => {
      const hours = numberOf(typed);
      if (typeof hours !== "number" || hours < 0 || hours > 24) wrong[`month${i + 1}`] = "hours from 0 to 24";
    });
  }
  const latitude = numberOf(draft.latitude);
  if (latitude === undefined || Math.abs(latitude ?? 0) > 90)
    wrong.latitude = "degrees from -90 to 90, or empty";
  const shift = numberOf(draft.shift);
  if (shift === undefined || !Number.isInteger(shift ?? 0) || Math.abs(shift ?? 0) > 366)
    wrong.shiftDays = "whole days from -366 to 366";
  return wrong;
}

/** The schedule of a draft; null while something is wrong with it. On and off an odd number of minutes apart have their middle at the full minute before. */
export function scheduleOf(draft: LightDraft): Schedule | null {
  if (Object.keys(lightWrong(draft)).length > 0) return null;
  const rest = { latitude: numberOf(draft.latitude) ?? null, shiftDays: numberOf(draft.shift) ?? 0 };
  if (draft.shape === "months")
    return { hours: draft.months.map((typed) => numberOf(typed) ?? 0), middle: draft.middle.trim(), ...rest };
  const on = minutesOf(draft.on) ?? 0;
  const lit = ((minutesOf(draft.off) ?? 0) - on + DAY) % DAY;
  return { hours: [lit / 60], middle: clockText(Math.floor(on + lit / 2)), ...rest };
}

/**
 * The twelve lengths of daylight at a latitude on the 15th of each month of a year, on a calendar that runs `shiftDays` ahead, in hours to two
 * places; null where the latitude is none. Source: dayLength.
 */
export function daylightMonths(latitude: number, shiftDays: number, year: number): readonly string[] | null {
  const hours = Array.from({ length: 12 }, (_, month) => {
    const date = new Date(Date.UTC(year, month, 15 + shiftDays)).toISOString().slice(0, 10);
    return dayLength({ latitude, longitude: 0, date }).value;
  });
  return hours.includes(null) ? null : hours.map((each) => hoursText(each ?? 0));
}
