/** Home water in sentences: numbers with their units, and what is not known said. */
import { monthName } from "../time/month-names.ts";
import { signedMostText } from "../units/bound-text.ts";
import { signedText } from "../units/number-text.ts";
import { percent } from "../units/share-text.ts";

export interface GapWords {
  readonly quantityLabel: string;
  readonly unitLabel: string;
  readonly decimals: number;
  /** Whose range, in words: "garibaldi", "the common range". */
  readonly against: string;
  readonly month: number;
  readonly share: number;
  readonly typicalMiss: number;
  readonly widestMiss: number;
}

/** "October: temperature inside garibaldi's range 89 % of the time; the rest off by +0.3 °C on average, +0.4 °C at most." */
export function gapSentence(gap: GapWords): string {
  const { month, quantityLabel, against, share, typicalMiss, widestMiss, unitLabel, decimals } = gap;
  return `${monthName(month)}: ${quantityLabel} inside ${against} ${percent(share)} of the time; the rest off by ${signedText(typicalMiss, decimals, unitLabel)} on average, ${signedMostText(widestMiss, decimals, unitLabel)} at most.`;
}

/** What light was off, since when: "Light one hour early since 25 Oct, the clock change." `from` and `to` are dates in words. */
export function lightSentence(finding: {
  readonly kind: "hours" | "phase" | "clock";
  readonly off: number;
  readonly from: string;
  readonly to: string | null;
  readonly isClockChange: boolean;
}): string {
  const { kind, off, from, to, isClockChange } = finding;
  const span = to === null ? `since ${from}` : from === to ? `on ${from}` : `from ${from} to ${to}`;
  const size = `${Math.round(Math.abs(off))} min`;
  if (kind === "hours") return `Lit ${size} ${off < 0 ? "less" : "more"} a day than planned ${span}.`;
  const way = off < 0 ? "early" : "late";
  if (kind === "phase")
    return `Middle of the light period ${size} ${way} ${span}; day length is judged separately.`;
  const why = isClockChange ? ": the clock change was not followed" : ": a timer is off by an hour";
  return `Light one hour ${way} ${span}${why}.`;
}
