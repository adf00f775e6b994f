/** Times typed into a form: always the site's clock, whatever zone the browser is in. */
import { DAY, MINUTE } from "#core/time/instant.ts";
import { clockOf } from "#core/time/zone-clock.ts";

/** What the site's clock shows, read as if it were UTC: the difference to the instant is the offset. */
const shownAt = (at: number, zone: string): number => Date.parse(`${wallText(at, zone)}:00Z`);

/** An instant as the text of a datetime-local field, "2026-10-29T07:12". */
export const wallText = (at: number, zone: string): string => clockOf(zone).wall(at);

/**
 * The instant at which the site's clock shows that text; null for text that is no time. In the hour that an autumn change doubles the earlier
 * one is meant; in the hour that a spring change leaves out, the time as the clock went on.
 */
export function instantOfWall(text: string, zone: string): number | null {
  const asUtc = Date.parse(`${text}:00Z`);
  if (!/^\d{4}-\d\d-\d\dT\d\d:\d\d$/.test(text) || Number.isNaN(asUtc)) return null;
  const offsetAt = (at: number) => shownAt(at, zone) - Math.floor(at / MINUTE) * MINUTE;
  const candidates = [asUtc - offsetAt(asUtc - DAY), asUtc - offsetAt(asUtc + DAY)];
  const right = candidates.filter((at) => shownAt(at, zone) === asUtc).sort((a, b) => a - b);
  return right[0] ?? candidates[0] ?? null;
}
