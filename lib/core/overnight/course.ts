/** Where a quantity is heading, and how long it has at the rate it has now. Pure: value, rate and band are arguments. */
import type { BandEdges } from "../habitat/band.ts";
import { DAY, HOUR, type Instant } from "../time/instant.ts";

/** A quantity now; value and edges in the quantity's own unit, `rate` in units an hour over the last two hours. */
export interface Moving {
  readonly value: number | null;
  readonly rate: number | null;
  /** Signed; 0 in the band. Null where not proven. */
  readonly deviation: number | null;
  readonly band: BandEdges | null;
}
export type Course = "worse" | "steady" | "recovering";

/** What is called movement: a tenth of the way from edge to action limit in twelve hours. Our own rule; less is noise. */
const MOVES = 0.1;
const AHEAD_HOURS = 12;

const finite = (value: number | null): value is number => value !== null && Number.isFinite(value);

/** The side a quantity is out on, or is heading for while it is in band: 1 high, -1 low, 0 neither. */
function sideOf({ rate, deviation }: Moving): -1 | 0 | 1 {
  const sign = deviation !== null && deviation !== 0 ? deviation : (rate ?? 0);
  return sign > 0 ? 1 : sign < 0 ? -1 : 0;
}

const edgeOf = (band: BandEdges, side: number) => (side > 0 ? band.high : band.low);
const limitOf = (band: BandEdges, side: number) => (side > 0 ? band.actionHigh : band.actionLow);

/** From edge to action limit on a side; where a side has no limit, half the band's width; null where neither is set. */
function unitOf(band: BandEdges, side: number): number | null {
  const [edge, limit] = [edgeOf(band, side), limitOf(band, side)];
  if (finite(edge) && finite(limit)) return Math.abs(limit - edge);
  if (finite(band.low) && finite(band.high)) return (band.high - band.low) / 2;
  return finite(edge) && edge !== 0 ? Math.abs(edge) / 2 : null;
}

/** Whether a quantity gets worse, stays as it is or comes back to its band. Steady where rate or band are not known. */
export function courseOf(moving: Moving): Course {
  const { rate, deviation, band } = moving;
  const side = sideOf(moving);
  const unit = band === null ? null : unitOf(band, side);
  if (!finite(rate) || unit === null || unit === 0 || side === 0) return "steady";
  const ahead = (rate * side * AHEAD_HOURS) / unit;
  if (ahead >= MOVES) return "worse";
  return ahead <= -MOVES && deviation !== null && deviation !== 0 ? "recovering" : "steady";
}

/**
 * How long is left. `reaches`: at this rate the edge of its band (while in it) or its action limit comes in between `from` and `to`
 * milliseconds. `past`: it is past its action limit. `not soon`: not within seven days. `away`: it does not move that way. `open`: no limit is set
 * on that side. `not known`: no believable value, rate or band.
 */
export type TimeLeft =
  | {
      readonly kind: "reaches";
      readonly target: "edge" | "limit";
      readonly value: number;
      readonly from: number;
      readonly to: number;
    }
  | { readonly kind: "past"; readonly value: number }
  | { readonly kind: "not soon"; readonly value: number }
  | { readonly kind: "away" | "open" | "not known" };

const LONGEST = 7 * DAY;
/** Where only one rate is known, the time is told from two thirds to one and a half of what it gives. Our own rule. */
const SPREAD = 1.5;

/**
 * How long until the edge or the limit, as an interval between what two rates give: the one of the last two hours and `other` (units an hour,
 * for example the mean since it left its band; null where there is none). Rates of opposite sign say nothing together: then only the newer counts.
 */
export function timeLeft(moving: Moving, other: number | null): TimeLeft {
  const { value, rate, deviation, band } = moving;
  if (!finite(value) || band === null || deviation === null) return { kind: "not known" };
  const side = sideOf(moving);
  // What is out of its band has a side even where its rate is not known yet: that it is past its limit can be said.
  if (side === 0) return { kind: finite(rate) ? "away" : "not known" };
  const target = deviation === 0 ? "edge" : "limit";
  const goal = target === "edge" ? edgeOf(band, side) : limitOf(band, side);
  if (!finite(goal)) return { kind: "open" };
  if (side * (value - goal) >= 0) return { kind: "past", value: goal };
  if (!finite(rate)) return { kind: "not known" };
  if (courseOf(moving) !== "worse") return { kind: "away" };
  const hours = (speed: number) => (goal - value) / speed;
  const first = hours(rate);
  const second = finite(other) && other * rate > 0 ? hours(other) : null;
  const [least, most] =
    second === null ? [first / SPREAD, first * SPREAD] : [Math.min(first, second), Math.max(first, second)];
  if (least * HOUR > LONGEST) return { kind: "not soon", value: goal };
  return { kind: "reaches", target, value: goal, from: least * HOUR, to: Math.min(most * HOUR, LONGEST) };
}

/** Mean speed since an edge was crossed, units an hour; null within a quarter of an hour of it, when it would say nothing. */
export function meanRate(value: number | null, edge: number | null, began: Instant, now: Instant) {
  const hours = (now - began) / HOUR;
  return finite(value) && finite(edge) && hours >= 0.25 ? (value - edge) / hours : null;
}
