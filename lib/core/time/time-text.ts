import type { Fault } from "../faults/fault.ts";
import type { Instant } from "./instant.ts";

export type TimeResult = { readonly ok: true; readonly at: Instant } | ({ readonly ok: false } & Fault);

const RFC_3339 = /^(\d{4})-(\d\d)-(\d\d)[Tt ](\d\d):(\d\d)(?::(\d\d)(?:\.(\d+))?)?(Z|z|[+-]\d\d:\d\d)?$/;
const OFFSET = /^(?:Z|z|([+-])(\d\d):(\d\d))$/;
const EXAMPLE = "2026-03-01T06:30:00+01:00";
/** 9999-12-31T23:59:59.999Z, the last instant RFC 3339 can write. */
export const LAST_INSTANT = 253_402_300_799_999;
/** Whole seconds of the years 2001 to 2033: as milliseconds they would be days in January 1970. */
const SECONDS_FROM = 1_000_000_000;
export const SECONDS_TO = 2_000_000_000;

/**
 * Minutes east of UTC of `Z` or `+hh:mm` / `-hh:mm`, undefined for anything else or beyond 23:59.
 * Source: RFC 3339 section 5.6 (time-offset).
 */
export function offsetMinutes(text: string): number | undefined {
  const found = OFFSET.exec(text);
  if (found === null) return undefined;
  if (found[1] === undefined) return 0;
  const [hours, minutes] = [Number(found[2]), Number(found[3])];
  if (hours > 23 || minutes > 59) return undefined;
  return (found[1] === "-" ? -1 : 1) * (hours * 60 + minutes);
}

/**
 * An instant from date and time text. Never throws.
 * `assumedOffset` is used for text without an offset and also allows a time without seconds (files); without it such text
 * is refused, because it would mean another moment on another machine. Fractions beyond milliseconds are cut off.
 * A second of 60 and dates that do not exist are refused. Source: RFC 3339 section 5.6 and 5.7.
 */
export function decodeTimeText(text: string, assumedOffset?: string): TimeResult {
  const found = RFC_3339.exec(text);
  if (found === null) return refused(`${quoted(text)} is not a date and time`, `send it like ${EXAMPLE}`);
  const [, year, month, day, hour, minute, second, fraction, written] = found;
  const offset = written ?? assumedOffset;
  if (offset === undefined) return refused(`${quoted(text)} has no offset`, "add Z or one like +01:00");
  if (second === undefined && assumedOffset === undefined)
    return refused(`${quoted(text)} has no seconds`, `send it like ${EXAMPLE}`);
  if (second === "60")
    return refused(
      `${quoted(text)} is a leap second, which clocks here do not count`,
      "send second 59 or the next minute",
    );
  const east = offsetMinutes(offset);
  if (east === undefined)
    return refused(`${quoted(text)} has an offset that does not exist`, "use Z or one like +01:00");
  const ms = Number((fraction ?? "").slice(0, 3).padEnd(3, "0"));
  const local = new Date(0);
  local.setUTCFullYear(Number(year), Number(month) - 1, Number(day));
  local.setUTCHours(Number(hour), Number(minute), Number(second ?? 0), ms);
  const exists =
    local.getUTCMonth() === Number(month) - 1 &&
    local.getUTCDate() === Number(day) &&
    Number(hour) < 24 &&
    Number(minute) < 60 &&
    Number(second ?? 0) < 60;
  if (!exists)
    return refused(`${quoted(text)} is a date or time that does not exist`, `send one like ${EXAMPLE}`);
  return { ok: true, at: local.getTime() - east * 60_000 };
}

/**
 * An instant from a number of milliseconds since 1970. Whole, from 0 to the end of year 9999. A number that can only be meant as
 * seconds (2001 to 2033) is refused rather than stored as January 1970. Never throws.
 */
export function decodeEpochMs(value: number): TimeResult {
  if (!Number.isInteger(value))
    return refused(
      `${value} is not a whole number of milliseconds since 1970`,
      `round it, or send text like ${EXAMPLE}`,
    );
  if (value < 0 || value > LAST_INSTANT)
    return refused(`${value} is outside the years 1970 to 9999`, "send milliseconds since 1970");
  if (value >= SECONDS_FROM && value < SECONDS_TO)
    return refused(`${value} looks like seconds`, `send milliseconds since 1970 (${value}000)`);
  return { ok: true, at: value };
}

function refused(says: string, remedy: string): TimeResult {
  return { ok: false, says, remedy };
}
function quoted(text: string): string {
  return JSON.stringify(text.length > 40 ? `${text.slice(0, 40)}…` : text);
}
