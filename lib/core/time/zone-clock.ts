/**
 * Moments as people at a site read them: the one writer of wall times and dates, built from the parts that Intl gives, so that server
 * and browser write the same. The locale is fixed: the browser's own may be one that Intl refuses (`en-US@posix`).
 */
import { DAY, HOUR, type Instant, MINUTE } from "./instant.ts";
import { monthShort, WEEKDAYS } from "./names.ts";

/** What the clock and the calendar on the wall show. */
interface Shown {
  readonly year: number;
  /** 1 to 12. */
  readonly month: number;
  readonly day: number;
  readonly hour: number;
  readonly minute: number;
  readonly second: number;
}

export interface ZoneClock {
  readonly zone: string;
  /** "07:12" */
  clock(at: Instant): string;
  /** "Thu 29 Oct" */
  day(at: Instant): string;
  /** "29 Oct" */
  dayMonth(at: Instant): string;
  /** "Thu 29 Oct 07:12"; "Tue 29 Oct 2024 07:12" where it is told what year it is now and that is another. */
  dayClock(at: Instant, now?: Instant): string;
  /**
   * "07:12" today, "Tue 07:12" within the six days before, else "24 Nov 07:12", with its year where that is not this one. In the hour that
   * an autumn clock change doubles the offset is added, because 01:30 comes twice then.
   */
  near(at: Instant, now: Instant): string;
  /** "Thu 29 Oct 2026, 07:12 GMT" */
  full(at: Instant): string;
  /** Short name of the zone at that moment, "GMT" or "BST". */
  name(at: Instant): string;
  /** Hour of the site's day, with its fraction: 18.5 = 18:30. */
  hour(at: Instant): number;
  /** 1 to 12. */
  month(at: Instant): number;
  year(at: Instant): string;
  /** The wall as a date-and-time field holds it: "2026-10-29T07:12". */
  wall(at: Instant): string;
}

const two = (n: number): string => String(n).padStart(2, "0");

/** "07:05", of minutes after midnight; more or less than a day's go round, as on a clock. */
export function clockText(minutes: number): string {
  const whole = ((Math.round(minutes) % 1440) + 1440) % 1440;
  return `${two(Math.floor(whole / 60))}:${two(whole % 60)}`;
}

/** Clock of a site. Making one is costly (two formatters): keep it. An unknown zone throws a RangeError. */
export function zoneClock(zone: string): ZoneClock {
  const numbers = new Intl.DateTimeFormat("en-GB", {
    timeZone: zone,
    hourCycle: "h23",
    year: "numeric",
    month: "numeric",
    day: "numeric",
    hour: "numeric",
    minute: "numeric",
    second: "numeric",
  });
  const names = new Intl.DateTimeFormat("en-GB", { timeZone: zone, timeZoneName: "short" });
  const shown = (at: Instant): Shown => {
    const found: Record<string, number> = {};
    for (const { type, value } of numbers.formatToParts(at)) found[type] = Number(value);
    const { year = 0, month = 1, day = 1, hour = 0, minute = 0, second = 0 } = found;
    return { year, month, day, hour, minute, second };
  };
  /** Midnight of the date as if it were UTC: dates are counted with it. */
  const date = ({ year, month, day }: Shown): number => Date.UTC(year, month - 1, day);
  const time = ({ hour, minute }: Shown) => `${two(hour)}:${two(minute)}`;
  // 1 January 1970 was a Thursday.
  const weekday = (there: Shown) => WEEKDAYS[(((date(there) / DAY + 3) % 7) + 7) % 7] ?? "";
  const dayMonth = (there: Shown) => `${there.day} ${monthShort(there.month)}`;
  const day = (there: Shown) => `${weekday(there)} ${dayMonth(there)}`;
  const name = (at: Instant) =>
    names.formatToParts(at).find(({ type }) => type === "timeZoneName")?.value ?? "";
  const asUtc = (there: Shown) => date(there) + there.hour * HOUR + there.minute * MINUTE;
  const offset = (at: Instant) => Math.round((asUtc(shown(at)) - Math.floor(at / MINUTE) * MINUTE) / MINUTE);
  /** " (UTC+01:00)" where the same wall time comes again, or came before; clocks are set by an hour at most. */
  const doubled = (at: Instant): string => {
    const here = offset(at);
    const isDoubled = [at - HOUR, at + HOUR].some((other) => {
      const change = offset(other) - here;
      return change !== 0 && offset(at - change * MINUTE) === here + change;
    });
    return isDoubled ? ` (UTC${here < 0 ? "-" : "+"}${clockText(Math.abs(here))})` : "";
  };
  const near = (at: Instant, now: Instant): string => {
    const [there, here] = [shown(at), shown(now)];
    const days = (date(here) - date(there)) / DAY;
    const clock = `${time(there)}${doubled(at)}`;
    if (days === 0) return clock;
    if (days > 0 && days <= 6) return `${weekday(there)} ${clock}`;
    return `${dayMonth(there)}${there.year === here.year ? "" : ` ${there.year}`} ${clock}`;
  };
  return {
    zone,
    clock: (at) => time(shown(at)),
    day: (at) => day(shown(at)),
    dayMonth: (at) => dayMonth(shown(at)),
    dayClock: (at, now = at) => {
      const there = shown(at);
      const year = there.year === shown(now).year ? "" : ` ${there.year}`;
      return `${day(there)}${year} ${time(there)}`;
    },
    near,
    full: (at) => {
      const there = shown(at);
      return `${day(there)} ${there.year}, ${time(there)} ${name(at)}`;
    },
    name,
    hour: (at) => {
      const { hour, minute, second } = shown(at);
      return hour + minute / 60 + second / 3600;
    },
    month: (at) => shown(at).month,
    year: (at) => String(shown(at).year),
    wall: (at) => {
      const there = shown(at);
      return `${String(there.year).padStart(4, "0")}-${two(there.month)}-${two(there.day)}T${time(there)}`;
    },
  };
}

const kept = new Map<string, ZoneClock>();
/** The clock of a zone, made once. */
export function clockOf(zone: string): ZoneClock {
  const known = kept.get(zone);
  if (known !== undefined) return known;
  const made = zoneClock(zone);
  kept.set(zone, made);
  return made;
}
