import { clockOf } from "../words/time-words.ts";

/** Times typed into a form: always the site's clock, whatever zone the browser is in. */
const two = (n: number) => String(n).padStart(2, "0");
const MINUTE = 60_000;

/** What the site's clock shows, read as if it were UTC: the difference to the instant is the offset. */
function shownAt(at: number, zone: string): number {
  const clock = clockOf(zone);
  const [, day, month] = clock.day(at).split(" ");
  const [hour, minute] = clock.clock(at).split(":");
  return Date.parse(`${day} ${month} ${clock.year(at)} ${hour}:${minute} UTC`);
}

/** An instant as the text of a datetime-local field, "2026-10-29T07:12". */
export function wallText(at: number, zone: string): string {
  const shown = new Date(shownAt(at, zone));
  const date = `${shown.getUTCFullYear()}-${two(shown.getUTCMonth() + 1)}-${two(shown.getUTCDate())}`;
  return `${date}T${two(shown.getUTCHours())}:${two(shown.getUTCMinutes())}`;
}

/**
 * The instant at which the site's clock shows that text; null for text that is no time. In the hour that an autumn change doubles the earlier
 * one is meant; in the hour that a spring change leaves out, the time as the clock went on.
 */
export function instantOfWall(text: string, zone: string): number | null {
  const asUtc = Date.parse(`${text}:00Z`);
  if (!/^\d{4}-\d\d-\d\dT\d\d:\d\d$/.test(text) || Number.isNaN(asUtc)) return null;
  const offsetAt = (at: number) => shownAt(at, zone) - Math.floor(at / MINUTE) * MINUTE;
  const candidates = [asUtc - offsetAt(asUtc - 86_400_000), asUtc - offsetAt(asUtc + 86_400_000)];
  const right = candidates.filter((at) => shownAt(at, zone) === asUtc).sort((a, b) => a - b);
  return right[0] ?? candidates[0] ?? null;
}
