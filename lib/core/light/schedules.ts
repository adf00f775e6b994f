/** How light schedules follow each other, and how one is put into words. */
import type { Instant } from "../time/instant.ts";
import type { DatedSchedule, LightSchedule } from "./planned-light.ts";

type Dated = Pick<DatedSchedule, "validFrom" | "validTo" | "recordedAt">;

/** Whether a schedule holds at no time: withdrawn, or replaced from its very beginning. */
export const isVoid = ({ validFrom, validTo }: Dated): boolean => validTo !== null && validTo <= validFrom;

/** The schedules of a system that one beginning at `from` ends, with their new ends; one that was to begin later holds at no time then. */
export function endedBy<T extends Dated>(schedules: readonly T[], from: Instant): T[] {
  return schedules
    .filter((each) => each.validTo === null || each.validTo > from)
    .map((each) => ({ ...each, validTo: Math.max(from, each.validFrom) }));
}

/**
 * What changes where a schedule is withdrawn: it holds at no time, and the one that it ended (the newest of those that end where it began) goes
 * on until it would have ended. Empty where it holds at no time already.
 */
export function withdrawnFrom<T extends Dated>(schedules: readonly T[], withdrawn: T): T[] {
  if (isVoid(withdrawn)) return [];
  const before = schedules
    .filter((each) => !isVoid(each) && each.validTo === withdrawn.validFrom)
    .sort((a, b) => a.validFrom - b.validFrom || a.recordedAt - b.recordedAt)
    .at(-1);
  return [
    { ...withdrawn, validTo: withdrawn.validFrom },
    ...(before ? [{ ...before, validTo: withdrawn.validTo }] : []),
  ];
}

const length = (hours: number) => `${Math.round(hours * 100) / 100} h`;

/** "10 h to 14.3 h by month, centred on 13:00, following 33 degrees north, 182 days ahead". */
export function scheduleWords({ hours, middle, latitude, shiftDays }: LightSchedule): string {
  const how =
    hours.length === 1
      ? `${length(hours[0] ?? 0)} a day`
      : `${length(Math.min(...hours))} to ${length(Math.max(...hours))} a day by month`;
  const side = (latitude ?? 0) < 0 ? "south" : "north";
  const home = latitude === null ? "" : `, following ${Math.abs(latitude)} degrees ${side}`;
  const shift = shiftDays === 0 ? "" : `, ${Math.abs(shiftDays)} days ${shiftDays > 0 ? "ahead" : "behind"}`;
  return `${how}, centred on ${middle}${home}${shift}`;
}
