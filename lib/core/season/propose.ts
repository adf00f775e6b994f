/** A year's set-points by week, proposed from home water within the composite band and the rate that animals bear. A proposal to people, never a command. */

import { DAY, type Instant } from "../time/instant.ts";
import { monthBracket } from "../time/site-time.ts";
import { numberText } from "../units/number-text.ts";
import type { QuantityId } from "../units/quantity.ts";
import { roundTo } from "../units/rounding.ts";

const WEEK = 7 * DAY;
/** Fastest change a week that is still comfortable: 0.7 degC of a seasonal ramp of 0.5 to 1, 5 min of day length a day. Common practice, no source. No other quantity is given a season. */
export const USUAL_RATES = { temperature: 0.7, day_length: 35 / 60 } as const satisfies Partial<
  Record<QuantityId, number>
>;

/** The room there is at mid-month, in the quantity's unit; null on an open side. A null month has no common range. */
export type MonthlyRange = { readonly low: number | null; readonly high: number | null } | null;

export interface SeasonRequest {
  /** Twelve mid-month values of home water, January first, in the quantity's unit. */
  readonly native: readonly number[];
  /** Twelve mid-months of the composite band; all open where nothing is known. */
  readonly room: readonly MonthlyRange[];
  /** Where the system stands when the plan begins; null: it begins on the native curve. */
  readonly from: Instant;
  readonly standing: number | null;
  readonly weeks: number;
  /** Most change a week, in the unit; above 0. */
  readonly rate: number;
  readonly zone: string;
}
export type SetPoint = readonly [at: Instant, value: number];

export interface SeasonProposal {
  readonly setPoints: readonly SetPoint[];
  /** Weeks in which the band holds the plan away from home water, and in which the rate does. */
  readonly heldByBand: number;
  readonly heldByRate: number;
  /** Weeks in which the rate keeps the plan outside the band; empty in a plan that can be followed. */
  readonly outside: readonly Instant[];
}
export type SeasonAnswer =
  | { readonly ok: true; readonly proposal: SeasonProposal }
  | { readonly ok: false; readonly says: string; readonly remedy: string };

const mix = (a: number, b: number, share: number) => a + (b - a) * share;
const clamp = (value: number, low: number | null, high: number | null) =>
  Math.min(high ?? Number.POSITIVE_INFINITY, Math.max(low ?? Number.NEGATIVE_INFINITY, value));
const PLACES = 2;

/** Both mid-months must be there: between a month with a common range and one without none is known. */
function roomAt(room: readonly MonthlyRange[], before: number, after: number, share: number): MonthlyRange {
  const [a, b] = [room[before] ?? null, room[after] ?? null];
  if (!a || !b) return null;
  const edge = (from: number | null, to: number | null) =>
    from === null || to === null ? null : mix(from, to, share);
  return { low: edge(a.low, b.low), high: edge(a.high, b.high) };
}

/**
 * Set-points a week apart: the native curve run linearly between mid-months, held inside the band, and never changing by more than `rate` a
 * week from where the system stands. Not ok where a week has no common range (a compromise comes first) or the inputs are no twelve months.
 * Values to 0.01 of the unit. Source: our own rule; rates are common practice, no source.
 */
export function proposeSeason({
  native,
  room,
  from,
  standing,
  weeks,
  rate,
  zone,
}: SeasonRequest): SeasonAnswer {
  if (native.length !== 12 || room.length !== 12)
    return {
      ok: false,
      says: "a season needs twelve months of home water and of the band",
      remedy: "give both",
    };
  if (!(rate > 0))
    return {
      ok: false,
      says: `the rate ${rate} must be above 0`,
      remedy: "give the largest change allowed in a week",
    };
  const setPoints: SetPoint[] = [];
  const outside: Instant[] = [];
  let [heldByBand, heldByRate] = [0, 0];
  let last = standing;
  for (let week = 0; week <= weeks; week += 1) {
    const at = from + week * WEEK;
    const { before, after, start, end } = monthBracket(at, zone);
    const share = (at - start) / (end - start);
    const here = roomAt(room, before, after, share);
    if (!here)
      return {
        ok: false,
        says: `the animals have no range in common in week ${week + 1}`,
        remedy: "sign a compromise for those months first",
      };
    const home = mix(native[before] ?? Number.NaN, native[after] ?? Number.NaN, share);
    const wanted = clamp(home, here.low, here.high);
    const step = last === null ? 0 : wanted - last;
    const value = roundTo(last === null ? wanted : last + clamp(step, -rate, rate), PLACES);
    if (Math.abs(wanted - home) > 0.005) heldByBand += 1;
    if (Math.abs(value - wanted) > 0.005) heldByRate += 1;
    if (Math.abs(value - clamp(value, here.low, here.high)) > 0.005) outside.push(at);
    setPoints.push([at, value]);
    last = value;
  }
  return { ok: true, proposal: { setPoints, heldByBand, heldByRate, outside } };
}

/** What is wrong with set-points a person typed or edited, empty when they are sound: rising times, finite values, no step past the rate. */
export function setPointFaults(setPoints: readonly SetPoint[], rate: number): string[] {
  const faults: string[] = [];
  if (setPoints.length < 2) faults.push("a plan needs at least two set-points");
  setPoints.forEach(([at, value], i) => {
    if (!Number.isFinite(value)) faults.push(`set-point ${i + 1} is not a number`);
    const before = setPoints[i - 1];
    if (!before) return;
    if (at <= before[0]) faults.push(`set-point ${i + 1} is not later than the one before it`);
    const perWeek = (Math.abs(value - before[1]) / (at - before[0])) * WEEK;
    // A hundredth is what values are rounded to.
    if (at > before[0] && perWeek > rate + 0.0101)
      faults.push(`set-point ${i + 1} changes by ${numberText(perWeek, PLACES)} a week, more than ${rate}`);
  });
  return faults;
}
