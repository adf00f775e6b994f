/** Wall time at the site as a date-and-time field holds it ("2026-10-29T08:41"), and back, without a time zone library. */
const kept = new Map<string, Intl.DateTimeFormat>();

function format(zone: string): Intl.DateTimeFormat {
  const known = kept.get(zone);
  if (known) return known;
  const made = new Intl.DateTimeFormat("en-GB", {
    timeZone: zone,
    hourCycle: "h23",
    year: "numeric",
    month: "2-digit",
    day: "2-digit",
    hour: "2-digit",
    minute: "2-digit",
  });
  kept.set(zone, made);
  return made;
}

/** What the clock on the wall of the site shows at an instant, to the minute. */
export function wallOf(at: number, zone: string): string {
  const parts = new Map(
    format(zone)
      .formatToParts(at)
      .map(({ type, value }) => [type, value]),
  );
  const of = (type: string) => parts.get(type as Intl.DateTimeFormatPartTypes) ?? "";
  return `${of("year").padStart(4, "0")}-${of("month")}-${of("day")}T${of("hour")}:${of("minute")}`;
}

const asUtc = (wall: string): number => Date.parse(`${wall}:00Z`);
const DAY = 86_400_000;

/** The instants at which the wall shows this: one; two in the hour that autumn doubles, earlier first; none in the one that spring skips, or for no time. */
export function instantsOf(wall: string, zone: string): readonly number[] {
  const plain = asUtc(wall);
  if (!Number.isFinite(plain)) return [];
  const offsets = new Set([plain - DAY, plain, plain + DAY].map((at) => asUtc(wallOf(at, zone)) - at));
  return [...offsets]
    .map((offset) => plain - offset)
    .filter((at) => wallOf(at, zone) === wall)
    .sort((a, b) => a - b);
}
