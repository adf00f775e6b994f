/** Turns "D4 01:37" into an instant and an instant into local time of day, for one zone and one D1. */
import { Temporal } from "temporal-polyfill";
import { DAY, type Instant } from "#core/time/index.ts";

export interface ScenarioClock {
  /** Local midnight that starts D1. */
  readonly anchor: Instant;
  /** The instant of a day and local clock; a clock that comes twice means the first time, one that is skipped the time just after. */
  readonly instantOf: (moment: string) => Instant;
  /** Local milliseconds since local midnight of D1: the day number is its whole part by DAY, the clock the rest. */
  readonly localOf: (at: Instant) => number;
  /** Days since 1970-01-01 of the local date that is D1. */
  readonly dayOfD1: number;
}

const MOMENT = /^D(-?\d+) (\d\d):(\d\d)(?::(\d\d))?$/;

/** Local midnight of D1 for a demo whose D14 ended yesterday, at the local midnight that starts today. */
export function anchorEndingYesterday(now: Instant, zone: string): Instant {
  const today = Temporal.Instant.fromEpochMilliseconds(now).toZonedDateTimeISO(zone).toPlainDate();
  return today.subtract({ days: 14 }).toZonedDateTime({ timeZone: zone }).epochMilliseconds;
}

/** The clock of a zone for one anchor. Throws RangeError when the anchor is not a local midnight. */
export function openClock(zone: string, anchor: Instant): ScenarioClock {
  const start = Temporal.Instant.fromEpochMilliseconds(anchor).toZonedDateTimeISO(zone);
  const date = start.toPlainDate();
  if (date.toZonedDateTime({ timeZone: zone }).epochMilliseconds !== anchor)
    throw new RangeError(`anchor ${start.toString()} is not the midnight that starts a day in ${zone}`);
  const offsetOf = offsetWalker(zone);
  const anchorLocal = anchor + offsetOf(anchor);
  return {
    anchor,
    dayOfD1: Math.round(anchorLocal / DAY),
    localOf: (at) => at + offsetOf(at) - anchorLocal,
    instantOf: (moment) => {
      const match = MOMENT.exec(moment);
      if (!match) throw new RangeError(`"${moment}" is not a moment such as "D4 01:37"`);
      const [, day, hour, minute, second] = match;
      const time = Temporal.PlainTime.from({
        hour: Number(hour),
        minute: Number(minute),
        second: Number(second ?? 0),
      });
      const local = date.add({ days: Number(day) - 1 });
      return local.toZonedDateTime({ timeZone: zone, plainTime: time }).epochMilliseconds;
    },
  };
}

/** Offset of local time in ms; remembers the span between two clock changes, because readings walk through time. */
function offsetWalker(zone: string): (at: Instant) => number {
  let from = 1;
  let to = 0;
  let offset = 0;
  return (at) => {
    if (at >= from && at < to) return offset;
    const zoned = Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone);
    const next = zoned.getTimeZoneTransition("next");
    const last = zoned.add({ nanoseconds: 1 }).getTimeZoneTransition("previous");
    from = last?.epochMilliseconds ?? Number.NEGATIVE_INFINITY;
    to = next?.epochMilliseconds ?? Number.POSITIVE_INFINITY;
    offset = zoned.offsetNanoseconds / 1e6;
    return offset;
  };
}
