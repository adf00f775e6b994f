/** How near a quantity was to a range, month by month: from tallies to what a person reads. */
import { Temporal } from "temporal-polyfill";
import { QUARTER_HOUR } from "../quality/rollup.ts";
import type { Instant } from "../time/instant.ts";
import { type MonthBracket, monthBracket } from "../time/site-time.ts";
import { MILLION, type Sloped, type Stretch, type Tally } from "./tally.ts";

/** A range at mid-month in the quantity's unit; null on an open side. */
export interface MonthEdges {
  readonly low: number | null;
  readonly high: number | null;
}
export interface SiteMonth {
  /** 1 to 12. */
  readonly month: number;
  /** Site-local, [from, to). */
  readonly from: Instant;
  readonly to: Instant;
}

/** The twelve months of a year at a site, each from its first local midnight to the next one's. */
export function siteMonths(year: number, zone: string): SiteMonth[] {
  const first = (month: number) =>
    Temporal.PlainDate.from({ year, month: 1, day: 1 })
      .add({ months: month })
      .toZonedDateTime({ timeZone: zone }).epochMilliseconds;
  return Array.from({ length: 12 }, (_, i) => ({ month: i + 1, from: first(i), to: first(i + 1) }));
}

/** Half a month, cut at its 15th, with the two mid-months it lies between. */
export interface MonthHalf extends MonthBracket {
  /** 1 to 12. */
  readonly month: number;
  readonly from: Instant;
  readonly to: Instant;
}

/** The halves of a year's months at a site, rising; together they cover the year. Costly: make them once for many streams. */
export function monthHalves(year: number, zone: string): MonthHalf[] {
  return siteMonths(year, zone).flatMap(({ month, from, to }) => {
    const first = monthBracket(from, zone);
    const second = monthBracket(first.end, zone);
    return [
      { ...first, month, from, to: first.end },
      { ...second, month, from: first.end, to },
    ];
  });
}

const wholeQuarters = (at: Instant) => Math.ceil(at / QUARTER_HOUR) * QUARTER_HOUR;

/**
 * The stretches of a stream against twelve mid-month ranges that run linearly between, over the part of these halves within [from, to). Halves that
 * touch a month without a range (null), or whose range is empty at either end, are left out: they are not scored.
 */
export function stretchesOf(
  stream: number,
  months: readonly (MonthEdges | null)[],
  halves: readonly MonthHalf[],
  from: Instant,
  to: Instant,
): Stretch[] {
  return halves.flatMap((half): Stretch[] => {
    const [begin, finish] = [wholeQuarters(Math.max(from, half.from)), wholeQuarters(Math.min(to, half.to))];
    const [a, b] = [months[half.before] ?? null, months[half.after] ?? null];
    if (begin >= finish || !a || !b) return [];
    const sloped = (edge: "low" | "high"): Sloped | null => {
      const [x, y] = [a[edge], b[edge]];
      return x === null || y === null ? null : [x, y];
    };
    const [low, high] = [sloped("low"), sloped("high")];
    if (!low && !high) return [];
    if (low && high && (low[0] > high[0] || low[1] > high[1])) return [];
    return [{ stream, from: begin, to: finish, start: half.start, end: half.end, low, high }];
  });
}

/**
 * The part of a stream's time in whole quarter hours, open on both sides: its tally counts what was read and judges nothing. None where no
 * whole quarter hour begins in [from, to).
 */
export function openStretch(stream: number, from: Instant, to: Instant): Stretch[] {
  const [begin, finish] = [wholeQuarters(from), wholeQuarters(to)];
  if (begin >= finish) return [];
  return [{ stream, from: begin, to: finish, start: begin, end: finish, low: null, high: null }];
}

export interface Fit {
  /** Quarter hours with good readings that were compared with the range, and how many there could have been. */
  readonly scored: number;
  readonly possible: number;
  /** Share inside the range, 0 to 1; null where nothing was scored. */
  readonly share: number | null;
  /** Mean miss on the side that missed more often, signed, in the unit and in half widths of the range; null where nothing missed. */
  readonly typicalMiss: number | null;
  readonly typicalDeviation: number | null;
  /** The widest miss, signed. */
  readonly widestMiss: number | null;
}

/** A tally in the words of a fit. `possible`: quarter hours of the stretches it was counted over. */
export function fitOf(tally: Tally, possible: number): Fit {
  const { n, below, above } = tally;
  const isAbove = above > below || (above === below && tally.aboveSum >= tally.belowSum);
  const [count, sum, scaled] = isAbove
    ? [above, tally.aboveSum, tally.aboveScaled]
    : [below, tally.belowSum, tally.belowScaled];
  const sign = isAbove ? 1 : -1;
  const widest = tally.aboveMost >= tally.belowMost ? tally.aboveMost : -tally.belowMost;
  return {
    scored: n,
    possible,
    share: n === 0 ? null : (n - below - above) / n,
    typicalMiss: count === 0 ? null : (sign * sum) / count / MILLION,
    typicalDeviation: count === 0 ? null : (sign * scaled) / count / MILLION,
    widestMiss: below + above === 0 ? null : widest,
  };
}

/** Quarter hours in stretches. */
export const quartersIn = (stretches: readonly Stretch[]): number =>
  stretches.reduce((sum, { from, to }) => sum + Math.max(0, to - from) / QUARTER_HOUR, 0);

/** A fit with what it is of, to be ranked with others. */
export interface FitOf extends Fit {
  readonly quantity: string;
  /** Whose range: a species, or the common one. */
  readonly against: string;
  readonly month: number;
}

/** The fits that miss most, worst first: by the share that missed times how far, in half widths. Those within 95 % are no gap. */
export function largestGaps<T extends FitOf>(fits: readonly T[], most: number): T[] {
  const weight = ({ share, typicalDeviation }: Fit) => (1 - (share ?? 1)) * Math.abs(typicalDeviation ?? 0);
  return fits
    .filter(({ share }) => share !== null && share < WELL)
    .sort((a, b) => weight(b) - weight(a))
    .slice(0, most);
}

/** A share inside the range from which on a fit is well: colour appears only below it. Common practice, no source. */
export const WELL = 0.95;
