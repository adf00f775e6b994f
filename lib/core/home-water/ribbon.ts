/** What one species meets at home through the year, as a range a month: what a system is compared with and what a chart draws. */

import type { MonthEdges } from "../fit/fit.ts";
import { type MonthRange, rangesIn } from "../habitat/monthly.ts";
import {
  type EntryKind,
  entriesFor,
  type Profile,
  type ProfileEntry,
  type Stage,
} from "../habitat/profile.ts";
import { forQuantity, type QuantityId } from "../units/quantity.ts";

/** Ambient water and what tags recorded are home; where neither is known, what people advise is used instead, and labelled so. */
const BASES = [
  ["native", ["ambient", "used"]],
  ["advice", ["preferred", "advice"]],
] as const satisfies readonly (readonly [string, readonly EntryKind[]])[];
export type Basis = (typeof BASES)[number][0];

/** Half width given to a mean that came without a spread, in the quantity's unit. Common practice, no source; said wherever it is used. Of other quantities a mean alone tells no range. */
export const MEAN_HALF: Partial<Record<QuantityId, number>> = { temperature: 1, salinity: 1 };

export interface RibbonMonth extends MonthEdges {
  /** A single mean stood there: the range is that mean give or take MEAN_HALF. */
  readonly isWidened: boolean;
  /** Run linearly across a month that has no entry of its own. */
  readonly isBetween: boolean;
}
export interface Ribbon {
  readonly basis: Basis;
  /** Twelve, January first; null where nothing is known for the month. */
  readonly months: readonly (RibbonMonth | null)[];
  /** Every entry that had a part in it, each once. */
  readonly entries: readonly ProfileEntry[];
}

function joined(ranges: readonly MonthRange[], quantity: string): RibbonMonth | null {
  // Several series (surface and 50 m, say) are the two sides of one home: their outermost values, never their mean.
  const lows = ranges.map(({ low, typical }) => low ?? typical);
  const highs = ranges.map(({ high, typical }) => high ?? typical);
  const known = (values: readonly (number | null)[]) =>
    values.filter((value): value is number => value !== null);
  const isOpen = (side: "low" | "high") =>
    ranges.every((range) => range[side] === null && range.typical === null);
  let low = known(lows).length === 0 || isOpen("low") ? null : Math.min(...known(lows));
  let high = known(highs).length === 0 || isOpen("high") ? null : Math.max(...known(highs));
  if (low === null && high === null) return null;
  const isPoint = low !== null && low === high;
  if (isPoint && low !== null && high !== null) {
    const half = forQuantity(MEAN_HALF, quantity);
    if (half === undefined) return null;
    low -= half;
    high += half;
  }
  return { low, high, isWidened: isPoint, isBetween: ranges.some(({ between }) => between !== null) };
}

/**
 * The ribbon of a species at a stage for a quantity, in its unit: native entries where there are any, else advice, else null. A month's range
 * reaches from the lowest low to the highest high of its series; a lone mean is widened by MEAN_HALF and marked, and without a half width
 * for the quantity the month stays null.
 */
export function ribbonOf(profile: Profile, quantity: string, stage: Stage): Ribbon | null {
  for (const [basis, kinds] of BASES) {
    const entries = entriesFor(profile, quantity, stage, kinds);
    if (entries.length === 0) continue;
    const used = new Set<ProfileEntry>();
    const months = Array.from({ length: 12 }, (_, i) => {
      const ranges = rangesIn(entries, i + 1);
      for (const range of ranges) for (const entry of range.between ?? [range.entry]) used.add(entry);
      return joined(ranges, quantity);
    });
    if (months.some((month) => month !== null)) return { basis, months, entries: [...used] };
  }
  return null;
}

/** Overlapping or touching spans as one, rising. */
export function mergedSpans(
  spans: readonly { readonly from: number; readonly to: number }[],
): { readonly from: number; readonly to: number }[] {
  const merged: { from: number; to: number }[] = [];
  for (const span of [...spans].sort((a, b) => a.from - b.from)) {
    const last = merged.at(-1);
    if (last && span.from <= last.to) last.to = Math.max(last.to, span.to);
    else if (span.to > span.from) merged.push({ ...span });
  }
  return merged;
}
