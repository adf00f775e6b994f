/** Courses of invented water: pure functions of time, so that a night reads the same whenever it is played. */
import { DAY, HOUR, type Instant } from "#core/time/instant.ts";

/** What a probe would read at an instant; null: it says nothing. */
export type Course = (at: Instant) => number | null;
export type WordCourse = (at: Instant) => string;

function unit(text: string): number {
  let hash = 2_166_136_261;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 16_777_619);
  hash = Math.imul(hash ^ (hash >>> 15), 2_246_822_507);
  hash = Math.imul(hash ^ (hash >>> 13), 3_266_489_909);
  return ((hash ^ (hash >>> 16)) >>> 0) / 2 ** 32;
}

/** Noise of about this standard deviation, the same for the same name and instant. */
export const noise = (name: string, at: Instant, deviation: number): number =>
  deviation * 1.73 * (unit(`${name}/${at}/a`) + unit(`${name}/${at}/b`) - 1) * 1.41;

/** A day's curve: highest at this hour UTC, this much above and below. */
export const daily = (at: Instant, half: number, highest = 15): number =>
  half * Math.cos(2 * Math.PI * ((at % DAY) / DAY - highest / 24));

/** Units an hour from an instant on, until another (or on). */
export const ramp = (at: Instant, from: Instant, perHour: number, to = Number.POSITIVE_INFINITY): number =>
  at <= from ? 0 : (perHour * (Math.min(at, to) - from)) / HOUR;

/** Towards a change of this size from an instant on, with this time constant; back the same way from `to` on. */
export function approach(
  at: Instant,
  from: Instant,
  size: number,
  constant: number,
  to = Number.POSITIVE_INFINITY,
): number {
  if (at <= from) return 0;
  const reached = size * (1 - Math.exp(-(Math.min(at, to) - from) / constant));
  return at <= to ? reached : reached * Math.exp(-(at - to) / constant);
}
