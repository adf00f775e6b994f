/**
 * Times in the site's zone, built from parts so that server and browser write the same. The locale is fixed: the
 * browser's own may be one that Intl refuses (`en-US@posix`).
 */
const formats = (zone: string) => {
  const of = (options: Intl.DateTimeFormatOptions) =>
    new Intl.DateTimeFormat("en-GB", { timeZone: zone, hourCycle: "h23", ...options });
  return {
    clock: of({ hour: "2-digit", minute: "2-digit" }),
    day: of({ weekday: "short", day: "numeric", month: "short" }),
    date: of({ day: "numeric", month: "short", year: "numeric" }),
    zone: of({ timeZoneName: "short" }),
    numbers: of({
      year: "numeric",
      month: "numeric",
      day: "numeric",
      hour: "numeric",
      minute: "numeric",
      second: "numeric",
    }),
  };
};
type Part = Intl.DateTimeFormatPartTypes;
const part = (format: Intl.DateTimeFormat, at: number, type: Part): string =>
  format.formatToParts(at).find((p) => p.type === type)?.value ?? "";

export interface ZoneClock {
  readonly zone: string;
  /** "07:12" */
  clock(at: number): string;
  /** "Thu 29 Oct" */
  day(at: number): string;
  /** "Thu 29 Oct 07:12"; "Tue 29 Oct 2024 07:12" where it is told what year it is now and that is another. */
  dayClock(at: number, now?: number): string;
  /** "07:12" today, otherwise with its day, and with its year where that is not this one. */
  near(at: number, now: number): string;
  /** "Thu 29 Oct 2026, 07:12 GMT" */
  full(at: number): string;
  /** Short name of the zone at that moment, "GMT" or "BST". */
  name(at: number): string;
  /** Hour of the site's day, with its fraction: 18.5 = 18:30. */
  hour(at: number): number;
  year(at: number): string;
}

/** Clock of a site. Making one is costly (five formatters): keep it. An unknown zone throws a RangeError. */
export function zoneClock(zone: string): ZoneClock {
  const f = formats(zone);
  const clock = (at: number) => `${part(f.clock, at, "hour")}:${part(f.clock, at, "minute")}`;
  const day = (at: number) =>
    `${part(f.day, at, "weekday")} ${part(f.day, at, "day")} ${part(f.day, at, "month")}`;
  const year = (at: number) => part(f.date, at, "year");
  const name = (at: number) => part(f.zone, at, "timeZoneName");
  const dayClock = (at: number, now = at) =>
    `${day(at)}${year(at) === year(now) ? "" : ` ${year(at)}`} ${clock(at)}`;
  return {
    zone,
    clock,
    day,
    year,
    name,
    dayClock,
    near: (at, now) => (day(at) === day(now) && year(at) === year(now) ? clock(at) : dayClock(at, now)),
    full: (at) => `${day(at)} ${year(at)}, ${clock(at)} ${name(at)}`,
    hour: (at) =>
      Number(part(f.numbers, at, "hour")) +
      Number(part(f.numbers, at, "minute")) / 60 +
      Number(part(f.numbers, at, "second")) / 3600,
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

/** How long ago, rounded down so that nothing looks older than it is: "12 s", "42 min", "11 h", "3 days". */
export function ageWords(milliseconds: number): string {
  const seconds = Math.max(0, Math.floor(milliseconds / 1000));
  if (seconds < 60) return `${seconds} s`;
  const minutes = Math.floor(seconds / 60);
  if (minutes < 60) return `${minutes} min`;
  const hours = Math.floor(minutes / 60);
  if (hours < 48) return `${hours} h`;
  return `${Math.floor(hours / 24)} days`;
}
