/** Length and phase of the light judged apart, day by day, and what the days together say. */
import { median } from "../statistics/robust.ts";
import { HOUR, type Instant, MINUTE } from "../time/instant.ts";
import type { DayLight } from "./day-light.ts";
import { type LightSchedule, nativeHours, plannedHours, plannedMiddle } from "./planned-light.ts";

/** Minutes off the plan: up to the first all is well, from the second somebody looks, from the third somebody acts. Common practice, no source. */
export const PHASE_MINUTES = { well: 15, look: 30, act: 60 } as const;
export const LENGTH_MINUTES = { well: 15, look: 30, act: 60 } as const;
/** A forgotten clock change is an hour, less what a sensor read every quarter hour cannot tell. */
const HOUR_OFF = [45, 75] as const;
/** How many days after a clock change an hour's step is still that change. */
const CHANGE_DAYS = 2;
/** A single odd day is a cloud, a door or a cleaner; an hour off is reported on its first day. */
const LEAST_DAYS = 2;

export interface JudgedDay extends DayLight {
  readonly planned: number | null;
  readonly native: number | null;
  /** Measured minus planned, min; null where either is not known. */
  readonly lengthOff: number | null;
  /** Measured minus native, min. */
  readonly nativeOff: number | null;
  /** Measured middle minus planned middle, min: below 0 is early. */
  readonly phaseOff: number | null;
}

const minutes = (ms: number) => ms / MINUTE;

/** Each measured day beside its plan and its home latitude. `schedule` is the one in force that day, null where none is. */
export function judgeDay(day: DayLight, schedule: LightSchedule | null, zone: string): JudgedDay {
  const noon = (day.start + day.end) / 2;
  const planned = schedule ? plannedHours(schedule, noon, zone) : null;
  const native =
    schedule && schedule.latitude !== null
      ? nativeHours(schedule.latitude, schedule.shiftDays, noon, zone)
      : null;
  const off = (hours: number | null) =>
    hours === null || day.hours === null ? null : minutes((day.hours - hours) * HOUR);
  const middle = day.dawn === null || day.dusk === null ? null : (day.dawn + day.dusk) / 2;
  return {
    ...day,
    planned,
    native,
    lengthOff: off(planned),
    nativeOff: off(native),
    phaseOff: schedule && middle !== null ? minutes(middle - plannedMiddle(schedule, day.start, zone)) : null,
  };
}

export interface LightFinding {
  readonly kind: "hours" | "phase" | "clock";
  readonly severity: "look" | "action";
  /** Start of the first and end of the last day; open while the last judged day is still so. */
  readonly from: Instant;
  readonly to: Instant | null;
  readonly days: number;
  /** Median over the days, min; below 0 is short, or early. */
  readonly off: number;
  /** The clock change it began with, where it did. */
  readonly clockChange: Instant | null;
}

/** The start of a day with 23 or 25 hours at most two days before; null where clocks did not change. */
function changeBefore(days: readonly DayLight[], index: number): Instant | null {
  for (let i = index; i >= Math.max(0, index - CHANGE_DAYS); i -= 1) {
    const day = days[i];
    if (day && Math.abs(day.end - day.start - 24 * HOUR) > MINUTE) return day.start;
  }
  return null;
}

interface Run {
  readonly first: number;
  readonly last: number;
  readonly off: number;
}

/** Runs of days off by `look` minutes or more to the same side; days that say nothing neither break a run nor count. */
function runsOf(offs: readonly (number | null)[], look: number): Run[] {
  const runs: { first: number; last: number; values: number[] }[] = [];
  let open: { first: number; last: number; values: number[] } | null = null;
  offs.forEach((off, i) => {
    if (off === null) return;
    const isOff = Math.abs(off) >= look;
    const goesOn = isOff && open !== null && Math.sign(off) === Math.sign(open.values[0] ?? 0);
    if (goesOn && open) {
      open.last = i;
      open.values.push(off);
    } else if (isOff) {
      open = { first: i, last: i, values: [off] };
      runs.push(open);
    } else open = null;
  });
  return runs.map(({ first, last, values }) => ({ first, last, off: median(values) }));
}

function findingOf(
  days: readonly JudgedDay[],
  run: Run,
  kind: "hours" | "phase",
  limits: { readonly act: number },
): LightFinding | null {
  const [first, last] = [days[run.first], days[run.last]];
  if (!first || !last) return null;
  const size = Math.abs(run.off);
  const isHour = kind === "phase" && size >= HOUR_OFF[0] && size <= HOUR_OFF[1];
  const count = run.last - run.first + 1;
  if (count < LEAST_DAYS && !isHour) return null;
  const field = kind === "phase" ? "phaseOff" : "lengthOff";
  const isOpen = !days.slice(run.last + 1).some((day) => day[field] !== null);
  return {
    kind: isHour ? "clock" : kind,
    // What a quarter-hourly sensor reads as 58 minutes is the hour that somebody acts on.
    severity: isHour || size >= limits.act ? "action" : "look",
    from: first.start,
    to: isOpen ? null : last.end,
    days: count,
    off: run.off,
    clockChange: isHour ? changeBefore(days, run.first) : null,
  };
}

/**
 * What consecutive judged days say, oldest first: hours off the plan, phase off the plan, or the whole hour of a timer that missed a clock change
 * (or was set by hand). Length and phase are judged apart: a timer an hour early with the right length is one finding. `days` rise without gaps.
 */
export function lightFindings(days: readonly JudgedDay[]): LightFinding[] {
  const hours = runsOf(
    days.map((day) => day.lengthOff),
    LENGTH_MINUTES.look,
  ).map((run) => findingOf(days, run, "hours", LENGTH_MINUTES));
  const phase = runsOf(
    days.map((day) => day.phaseOff),
    PHASE_MINUTES.look,
  ).map((run) => findingOf(days, run, "phase", PHASE_MINUTES));
  return [...hours, ...phase]
    .filter((finding): finding is LightFinding => finding !== null)
    .sort((a, b) => a.from - b.from);
}
