/** Times as files write them: wall-clock text in a zone or an offset that a person has named, or counts since 1970. */
import { Temporal } from "temporal-polyfill";
import { DAY, type Instant, MINUTE } from "../time/instant.ts";
import { LAST_INSTANT, offsetMinutes, type TimeResult } from "../time/time-text.ts";
import type { ImportPlan } from "./plan.ts";

type TimePlan = ImportPlan["time"];

const TIME = String.raw`(\d{1,2}):(\d\d)(?::(\d\d)(?:[.,](\d+))?)?`;
const OFFSET = String.raw`\s*(Z|z|[+-]\d\d:?\d\d)?`;
const PATTERNS = {
  iso: new RegExp(String.raw`^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})[Tt ]\s*${TIME}${OFFSET}$`),
  dmy: new RegExp(String.raw`^(\d{1,2})[-/.](\d{1,2})[-/.](\d{4})[Tt ]\s*${TIME}${OFFSET}$`),
  mdy: new RegExp(String.raw`^(\d{1,2})[-/.](\d{1,2})[-/.](\d{4})[Tt ]\s*${TIME}${OFFSET}$`),
} as const;
const EXAMPLES = {
  iso: "2024-03-31 14:05",
  dmy: "31/03/2024 14:05",
  mdy: "03/31/2024 14:05",
  epoch_s: "1711893900",
  epoch_ms: "1711893900000",
} as const;

const OTHER_FORM = "correct the cell, or choose another form for times";

export interface FileTime {
  /** `cells`: the columns of the plan in its order. `previous`: the row before, for a clock time that came twice. Never throws. */
  read(cells: readonly string[], previous: Instant | null): TimeResult;
}

/** True for `Z`, an offset like `-07:00`, or a zone of the IANA database. */
export function isZone(zone: string): boolean {
  if (offsetMinutes(zone) !== undefined) return true;
  try {
    Temporal.Instant.fromEpochMilliseconds(0).toZonedDateTimeISO(zone);
    return /^[A-Za-z]/.test(zone);
  } catch {
    return false;
  }
}

/**
 * Reads times by a plan. A wall-clock time that never was (clocks went forward) is refused; one that came twice is refused or taken as the
 * plan says, for the reason that a guess would move an hour of readings by an hour. Source: RFC 5545 section 3.3.5 for the two cases.
 */
export function fileTime({ format, zone, twice }: TimePlan): FileTime {
  if (format === "epoch_s" || format === "epoch_ms") {
    const factor = format === "epoch_s" ? 1_000 : 1;
    return {
      read([cell = ""]) {
        if (!/^\d{1,15}(\.\d+)?$/.test(cell))
          return refused(`time is not a number such as ${EXAMPLES[format]}`, OTHER_FORM);
        return bounded(Math.round(Number(cell) * factor));
      },
    };
  }
  const local = zone === null ? null : wallReader(zone, twice);
  return {
    read(cells, previous) {
      const found = PATTERNS[format].exec(cells.join(" ").trim());
      if (found === null) return refused(`time is not in the form ${EXAMPLES[format]}`, OTHER_FORM);
      const [, a, b, c, hour, minute, second, fraction, offset] = found as unknown as string[];
      const [year, month, day] = format === "iso" ? [a, b, c] : format === "dmy" ? [c, b, a] : [c, a, b];
      const wall = wallOf(
        Number(year),
        Number(month),
        Number(day),
        Number(hour),
        Number(minute),
        Number(second ?? 0),
        fraction,
      );
      if (wall === null) return refused("time is not a real date and time", OTHER_FORM);
      if (offset !== undefined) return bounded(wall - offsetOf(offset) * MINUTE);
      if (local === null) return refused("time has no offset", "give the file's zone or offset");
      return local(wall, previous);
    },
  };
}

/** The instant at which a clock at UTC shows this; null for a date that does not exist. */
function wallOf(
  year: number,
  month: number,
  day: number,
  hour: number,
  minute: number,
  second: number,
  fraction: string | undefined,
): number | null {
  if (month < 1 || month > 12 || day < 1 || hour > 23 || minute > 59 || second > 59) return null;
  const at = Date.UTC(year, month - 1, day, hour, minute, second, Number(`${fraction ?? ""}000`.slice(0, 3)));
  return new Date(at).getUTCDate() === day ? at : null;
}

const offsetOf = (text: string): number =>
  offsetMinutes(text.length === 5 ? `${text.slice(0, 3)}:${text.slice(3)}` : text) ?? 0;

type WallReader = (wall: number, previous: Instant | null) => TimeResult;

function wallReader(zone: string, twice: TimePlan["twice"]): WallReader {
  const fixed = offsetMinutes(zone);
  if (fixed !== undefined) return (wall) => bounded(wall - fixed * MINUTE);
  // Of a day without a change of clocks the offset is known from its ends: asking the zone for each row would cost far more.
  let day = { from: 0, offset: null as number | null };
  const offsetAt = (wall: number): number =>
    Math.round(plain(wall).toZonedDateTime(zone).offsetNanoseconds / 1e6);
  return (wall, previous) => {
    const from = wall - (wall % DAY);
    if (from !== day.from) {
      const [first, last] = [offsetAt(from), offsetAt(from + DAY)];
      day = { from, offset: first === last ? first : null };
    }
    if (day.offset !== null) return bounded(wall - day.offset);
    const earlier = plain(wall).toZonedDateTime(zone, { disambiguation: "earlier" }).epochMilliseconds;
    const later = plain(wall).toZonedDateTime(zone, { disambiguation: "later" }).epochMilliseconds;
    if (earlier === later) return bounded(earlier);
    // A time that was skipped shows another clock reading whichever way it is taken.
    if (earlier + offsetAtInstant(earlier, zone) !== wall)
      return refused(
        `time does not exist in ${zone}, where clocks went forward then`,
        "for a logger that stays on one time all year, give a fixed offset",
      );
    if (twice === "first") return bounded(earlier);
    if (twice === "second") return bounded(later);
    if (twice === "order") return bounded(previous !== null && earlier <= previous ? later : earlier);
    return refused(
      `time occurs twice in ${zone}, where clocks went back then`,
      "choose the first, the second, or file order",
    );
  };
}

const plain = (wall: number) =>
  Temporal.Instant.fromEpochMilliseconds(wall).toZonedDateTimeISO("UTC").toPlainDateTime();
const offsetAtInstant = (at: Instant, zone: string): number =>
  Math.round(Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone).offsetNanoseconds / 1e6);

const bounded = (at: number): TimeResult =>
  at >= 0 && at <= LAST_INSTANT
    ? { ok: true, at }
    : refused("time is outside the years 1970 to 9999", OTHER_FORM);

function refused(says: string, remedy: string): TimeResult {
  return { ok: false, says, remedy };
}
