/** How long a quantity has until it leaves its band or reaches its action limit. Pure: what was read and when are arguments. */
import { mannKendall, theilSen } from "../drift/trend.ts";
import { edgeOf, limitOf, type Moving, sideOf } from "../overnight/course.ts";
import { HOUR } from "../time/instant.ts";
import { type Crossing, timeToLimit } from "./forecast.ts";
import { provenSlope } from "./path.ts";
import { crossingSince, type Points } from "./since-event.ts";

/** Where a quantity stands and what its last hours were. */
export interface Heading extends Moving {
  /** A finding is open that says that it changes too fast: its rate needs no other proof. */
  readonly isFast: boolean;
  /** Which way that finding says it goes; its rate of two hours may still be that of the calm before. Left out where none is open. */
  readonly way?: 1 | -1 | undefined;
  /** Means of the last hours, oldest first: hours before now (not above 0), value in the quantity's unit. */
  readonly recent: Points;
  /** Its readings since the event of that finding began; left out where none is open. */
  readonly event?: Points | undefined;
}

const LEAST = 5;
const PROVEN = 0.01;
/** What the last hours did goes on for no longer than this: a day's curve turns, and people act. Our own. */
const FARTHEST = 12;
/** Successive quarter hours are correlated, so Sen's interval is too narrow: it is widened by this factor. Our own. */
const WIDER = 1.25;
/** From a rate alone, the range runs from two thirds to one and a half of its result. Our own rule. */
const SPREAD = 1.5;

/**
 * When the course of the last hours reaches a goal on a side (1 upward, -1 downward), hours from now: where Mann-Kendall proves a trend in
 * them (p below 0.01), between the ends of Sen's 90 % interval of its slope, widened by a quarter. Of an event, by its readings since it began; where those are
 * not known and a finding vouches for the rate, by that. No coverage was measured for it, so it is never more than rough. Null where nothing is proven, or only for later than twelve hours.
 */
export function soon(heading: Heading, goal: number, side: 1 | -1): Crossing | null {
  const { value, rate, recent, isFast } = heading;
  if (value === null || !Number.isFinite(value)) return null;
  const since = isFast && heading.event ? crossingSince(heading.event, goal, side) : null;
  if (since?.earliest != null && since.earliest <= FARTHEST) return since;
  const speeds = proven(recent, side) ?? (isFast && rate !== null ? spread(side * rate) : null);
  if (!speeds) return null;
  const [slowest, fastest] = speeds;
  const way = side * (goal - value);
  if (!(fastest > 0) || way / fastest > FARTHEST) return null;
  return { earliest: way / fastest, latest: slowest > 0 ? way / slowest : null, isStated: false };
}

const spread = (speed: number) => [speed / SPREAD, speed * SPREAD] as const;

/** Slowest and fastest speed towards the side, units an hour, where a trend that way is proven; else null. */
function proven(recent: Heading["recent"], side: 1 | -1): readonly [number, number] | null {
  if (recent.length < LEAST) return null;
  const values = recent.map(([, mean]) => mean);
  if (mannKendall(values).p >= PROVEN) return null;
  const trend = theilSen(
    recent.map(([hour]) => hour),
    values,
    0.9,
  );
  if (!trend || side * trend.slope <= 0) return null;
  const [slowest, fastest] = side > 0 ? [trend.low, trend.high] : [-trend.high, -trend.low];
  return [slowest / WIDER, fastest * WIDER];
}

const WEEK = 7 * 24;
const NOT_SOON: Crossing = { earliest: null, latest: null, isStated: true };

/**
 * When the course of the last weeks (one mean an hour, NaN where none, the last one now) reaches a goal; within seven days only where a trend
 * of seven days towards it is proven. Null where seven days were not read, so that no trend can be proven.
 */
export function inDays(hours: readonly number[], goal: number, side: 1 | -1): Crossing | null {
  if (hours.length < WEEK) return null;
  return provenSlope(hours) * side > 0 ? timeToLimit(hours, goal, side) : NOT_SOON;
}

/**
 * How long is left. `reaches`: the edge of its band (while in it) or its action limit comes between `from` and `to` milliseconds from now; `to`
 * null: later than seven days, if at all. `isStated`: a 90 % interval whose coverage was measured on this stream, else rough. `past`: it is
 * past its action limit. `not soon`: no course is proven that gets there within seven days. `away`: in its band, and not moving. `open`:
 * no limit is set on that side. `not known`: no believable value or band, or too little read.
 */
export type TimeLeft =
  | {
      readonly kind: "reaches";
      readonly target: "edge" | "limit";
      readonly value: number;
      readonly from: number;
      readonly to: number | null;
      readonly isStated: boolean;
    }
  | { readonly kind: "past"; readonly value: number }
  | { readonly kind: "not soon"; readonly value: number }
  | { readonly kind: "away" | "open" | "not known" };

/** How long is left, by the last hours where they prove a course, else by `days`: what the last weeks say of a goal on a side. */
export function timeLeft(heading: Heading, days: (goal: number, side: 1 | -1) => Crossing | null): TimeLeft {
  const { value, deviation, band } = heading;
  if (value === null || !Number.isFinite(value) || band === null || deviation === null)
    return { kind: "not known" };
  const side = deviation === 0 && heading.way !== undefined ? heading.way : sideOf(heading);
  if (side === 0) return { kind: "away" };
  const inside = edgeOf(band, side);
  const outer = limitOf(band, side);
  // Of water that goes too fast the edge is no news: how long until somebody must act is.
  const target = deviation === 0 && !(heading.isFast && outer !== null) ? "edge" : "limit";
  const goal = target === "edge" ? inside : outer;
  if (goal === null || !Number.isFinite(goal)) return { kind: "open" };
  if (side * (value - goal) >= 0) return { kind: "past", value: goal };
  const crossing = soon(heading, goal, side) ?? days(goal, side);
  if (!crossing) return { kind: "not known" };
  if (crossing.earliest === null) return { kind: "not soon", value: goal };
  const { earliest, latest, isStated } = crossing;
  return {
    kind: "reaches",
    target,
    value: goal,
    from: earliest * HOUR,
    to: latest === null ? null : latest * HOUR,
    isStated,
  };
}
