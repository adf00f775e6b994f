/** How the 15-minute means of a stream lie against a range that runs linearly: counted the same by a store and by hand. */
import { QUARTER_HOUR, type RollupRow } from "../quality/rollup.ts";
import type { Instant } from "../time/instant.ts";

/** A value at the start and at the end of a stretch's slope, in the quantity's unit; linear between. */
export type Sloped = readonly [start: number, end: number];

/**
 * A stretch of one stream, in whole quarter hours [from, to), and the range it is compared with: `low` and `high` hold at `start` and `end` and run
 * linearly between. Null: open on that side.
 */
export interface Stretch {
  readonly stream: number;
  readonly from: Instant;
  readonly to: Instant;
  readonly start: Instant;
  readonly end: Instant;
  readonly low: Sloped | null;
  readonly high: Sloped | null;
}

/** Sums are whole millionths, so that they come out the same in whatever order they are added. */
export interface Tally {
  /** Quarter hours with at least one good reading. */
  readonly n: number;
  readonly below: number;
  readonly above: number;
  /** Sum of the misses on each side, millionths of the unit. */
  readonly belowSum: number;
  readonly aboveSum: number;
  /** The same in half widths of the range, millionths. */
  readonly belowScaled: number;
  readonly aboveScaled: number;
  /** Widest miss on each side, in the unit; 0 where there is none. */
  readonly belowMost: number;
  readonly aboveMost: number;
}
export const NO_TALLY: Tally = {
  n: 0,
  below: 0,
  above: 0,
  belowSum: 0,
  aboveSum: 0,
  belowScaled: 0,
  aboveScaled: 0,
  belowMost: 0,
  aboveMost: 0,
};

/** Farther than any water: an open side is never passed. */
const OPEN = 1e300;
export const MILLION = 1e6;

/** The numbers of a stretch as one flat row: what both dialects of the store bind and what `tallyOf` computes with. */
export interface TallyInputs {
  readonly offset: number;
  readonly span: number;
  readonly low: number;
  readonly lowRise: number;
  readonly high: number;
  readonly highRise: number;
  readonly half: number;
  readonly halfRise: number;
}

/** Half the range's width; where one side is open half the edge's magnitude, as a deviation is measured. */
function halfOf(low: number | undefined, high: number | undefined): number {
  if (low !== undefined && high !== undefined) return Math.abs(high - low) / 2;
  return Math.abs(high ?? low ?? 0) / 2;
}

/** A quarter hour is judged at its middle, so the slope is moved by half of one. */
export function tallyInputs({ start, end, low, high }: Stretch): TallyInputs {
  const [half, last] = [halfOf(low?.[0], high?.[0]), halfOf(low?.[1], high?.[1])];
  return {
    offset: start - QUARTER_HOUR / 2,
    span: end - start,
    low: low ? low[0] : -OPEN,
    lowRise: low ? low[1] - low[0] : 0,
    high: high ? high[0] : OPEN,
    highRise: high ? high[1] - high[0] : 0,
    half,
    halfRise: last - half,
  };
}

const millionths = (value: number) => Math.floor(value * MILLION + 0.5);

/**
 * Counts 15-minute rows of the stretch's stream, in any order; rows of another stream, another width, outside [from, to) or without a good
 * reading do not count. Equal to the last bit to what a store counts: every operation is one IEEE 754 double operation in both.
 */
export function tallyOf(stretch: Stretch, rows: readonly RollupRow[]): Tally {
  const { offset, span, low, lowRise, high, highRise, half, halfRise } = tallyInputs(stretch);
  const tally = { ...NO_TALLY };
  for (const row of rows) {
    if (row.stream !== stretch.stream || row.width !== QUARTER_HOUR || row.good === 0) continue;
    if (row.start < stretch.from || row.start >= stretch.to) continue;
    const mean = row.sum / row.good;
    const share = (row.start - offset) / span;
    const [lowest, highest] = [low + lowRise * share, high + highRise * share];
    const width = half + halfRise * share;
    tally.n += 1;
    if (mean < lowest) {
      const miss = -(mean - lowest);
      tally.below += 1;
      tally.belowSum += millionths(miss);
      tally.belowScaled += width > 0 ? millionths(miss / width) : MILLION;
      tally.belowMost = Math.max(tally.belowMost, miss);
    } else if (mean > highest) {
      const miss = mean - highest;
      tally.above += 1;
      tally.aboveSum += millionths(miss);
      tally.aboveScaled += width > 0 ? millionths(miss / width) : MILLION;
      tally.aboveMost = Math.max(tally.aboveMost, miss);
    }
  }
  return tally;
}

/** Tallies of several stretches as one. */
export function addTallies(tallies: readonly Tally[]): Tally {
  return tallies.reduce(
    (sum, one) => ({
      n: sum.n + one.n,
      below: sum.below + one.below,
      above: sum.above + one.above,
      belowSum: sum.belowSum + one.belowSum,
      aboveSum: sum.aboveSum + one.aboveSum,
      belowScaled: sum.belowScaled + one.belowScaled,
      aboveScaled: sum.aboveScaled + one.aboveScaled,
      belowMost: Math.max(sum.belowMost, one.belowMost),
      aboveMost: Math.max(sum.aboveMost, one.aboveMost),
    }),
    NO_TALLY,
  );
}
