/** Residents without a common range, in words. */

import type { Instant } from "../time/instant.ts";
import { monthBracket } from "../time/site-time.ts";
import { labelInSentence } from "../units/label-text.ts";
import { beside, numberText, rangeText } from "../units/number-text.ts";
import { labelOf } from "../units/quantity-label.ts";
import type { ResidentRange, TargetBand } from "./band.ts";

/** The ranges that have nothing in common at an instant: those of either mid-month it lies between. Null where there is a target. */
export function rangesWithoutCommon(
  { months }: Pick<TargetBand, "months">,
  at: Instant,
  zone: string,
): readonly ResidentRange[] | null {
  if (months.every(({ noCommonRange }) => noCommonRange === undefined)) return null;
  if (months.length === 1) return months[0]?.noCommonRange ?? null;
  const { before, after } = monthBracket(at, zone);
  return months[before]?.noCommonRange ?? months[after]?.noCommonRange ?? null;
}

const MOST_PAIRS = 6;

/**
 * "No common temperature, and no target until somebody signs a compromise: reef runner and cold skate (egg or larva): none, 1.0 °C apart. Do not
 * change it for one of them without asking the others' keepers."
 */
export function noCommonRangeWords(
  quantity: string,
  ranges: readonly ResidentRange[],
  names: (species: string) => string,
): string {
  const { label, unitLabel, decimals } = labelOf(quantity);
  const who = ({ species, stage }: ResidentRange) =>
    stage === "adult" ? names(species) : `${names(species)} (${stage})`;
  const asks = (range: ResidentRange) => `${who(range)} ${beside(rangeText(range, decimals), unitLabel)}`;
  const pairs = ranges.flatMap((a, i) =>
    ranges.slice(i + 1).map((b) => {
      const low = Math.max(a.low ?? Number.NEGATIVE_INFINITY, b.low ?? Number.NEGATIVE_INFINITY);
      const high = Math.min(a.high ?? Number.POSITIVE_INFINITY, b.high ?? Number.POSITIVE_INFINITY);
      const open = (value: number) => (Number.isFinite(value) ? value : null);
      const isApart = low >= high;
      const said = isApart
        ? `${beside(numberText(low - high, decimals), unitLabel)} apart`
        : `share ${beside(rangeText({ low: open(low), high: open(high) }, decimals), unitLabel)}`;
      return { isApart, says: `${who(a)} and ${who(b)} ${isApart ? "are" : ""} ${said}`.replace("  ", " ") };
    }),
  );
  const told = pairs.toSorted((a, b) => Number(b.isApart) - Number(a.isApart)).slice(0, MOST_PAIRS);
  return `No common ${labelInSentence(label)} range, so no target: ${ranges.map(asks).join(", ")}; ${told.map(({ says }) => says).join(", ")}. A compromise has to be signed.`;
}
