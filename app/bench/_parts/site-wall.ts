/** Wall time at the site as a date-and-time field holds it ("2026-10-29T08:41"), and back, without a time zone library. */
import { clockOf } from "#core/time/zone-clock.ts";

/** What the clock on the wall of the site shows at an instant, to the minute. */
export const wallOf = (at: number, zone: string): string => clockOf(zone).wall(at);

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
