/**
 * When water reaches a limit, from its readings since it left its level: the first two hours of an event, in which nothing of the hours before it
 * says how fast it goes. No coverage is measured for it, so what it tells is never more than rough.
 */
import { theilSen } from "../drift/trend.ts";
import type { Crossing } from "./forecast.ts";

/** Hours before now (not above 0) and value, oldest first. */
export type Points = readonly (readonly [hour: number, value: number])[];

const LEAST = 3;
const MANY = 6;
/** The range runs from one part in so many to so many times the result: of few readings more. Our own. */
const SPREAD = 1.5;
const SPREAD_OF_FEW = 2.5;
/** The later half goes at less than this share of the earlier one: it slows down. Our own. */
const SLOWER = 0.9;
/** So many times as long as it has gone on, it may be taken to go on alike: further away nothing bounds how late it gets there. Our own. */
const GOES_ON = 2;

const slopeOf = (points: Points, side: 1 | -1): number =>
  side *
  (theilSen(
    points.map(([hour]) => hour),
    points.map(([, value]) => value),
    0.9,
  )?.slope ?? 0);

const middleOf = (points: Points): number => ((points[0]?.[0] ?? 0) + (points.at(-1)?.[0] ?? 0)) / 2;

/**
 * From now on, hours: at the fastest it has gone, and at the slowest; where it slows down, as an exponential approach would go on. `latest` is null
 * where it may never get there, and where it has not gone on for long enough to say. Null with fewer than three readings, or where it does not go that way.
 */
export function crossingSince(points: Points, goal: number, side: 1 | -1): Crossing | null {
  const last = points.at(-1);
  if (points.length < LEAST || last === undefined) return null;
  const way = side * (goal - last[1]);
  if (way <= 0) return { earliest: 0, latest: 0, isStated: false };
  const whole = slopeOf(points, side);
  const half = Math.floor(points.length / 2);
  const isFew = points.length < MANY;
  const [early, late] = isFew ? [points, points] : [points.slice(0, half), points.slice(half)];
  const [before, now] = [slopeOf(early, side), slopeOf(late, side)];
  const fastest = Math.max(whole, now);
  if (!(fastest > 0)) return null;
  const spread = isFew ? SPREAD_OF_FEW : SPREAD;
  const earliest = way / (spread * fastest);
  const slowest = Math.min(whole, now);
  if (!isFew && now < SLOWER * before) {
    if (now <= 0) return { earliest, latest: null, isStated: false };
    const perHour = Math.log(before / now) / (middleOf(late) - middleOf(early));
    const speed = now * Math.exp(perHour * middleOf(late));
    const share = (way * perHour) / speed;
    const latest = share < 1 / spread ? (-spread * Math.log(1 - spread * share)) / perHour : null;
    return { earliest, latest, isStated: false };
  }
  const span = last[0] - (points[0]?.[0] ?? 0);
  const isNear = !isFew && slowest > 0 && way / slowest <= GOES_ON * span;
  return { earliest, latest: isNear ? (spread * way) / slowest : null, isStated: false };
}
