/** Home water in sentences: numbers with their units, and what is not known said. */
import { signedMostText, signedText } from "../units/number-text.ts";
import { percent } from "../units/share-text.ts";

const MONTHS = [
  "January",
  "February",
  "March",
  "April",
  "May",
  "June",
  "July",
  "August",
  "September",
  "October",
  "November",
  "December",
] as const;
/** "January" for 1. */
export const monthName = (month: number): string => MONTHS[(month + 11) % 12] ?? "";

/** Months of a year as runs: "October to January", "March and May". Months are 1 to 12 and the year goes round. */
export function monthRuns(months: readonly number[]): string {
  const wanted = [...new Set(months)].sort((a, b) => a - b);
  if (wanted.length === 12) return "every month";
  const has = (month: number) => wanted.includes(((month + 11) % 12) + 1);
  const starts = wanted.filter((month) => !has(month - 1));
  const runs = starts.map((start) => {
    let end = start;
    while (has(end + 1)) end += 1;
    return end === start ? monthName(start) : `${monthName(start)} to ${monthName(end)}`;
  });
  if (runs.length < 2) return runs[0] ?? "no month";
  return `${runs.slice(0, -1).join(", ")} and ${runs.at(-1)}`;
}

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

/** "October: temperature inside garibaldi's range 89 % of the time; the rest missed by +0.3 °C, at most +0.4 °C." */
export function gapSentence(gap: GapWords): string {
  const { month, quantityLabel, against, share, typicalMiss, widestMiss, unitLabel, decimals } = gap;
  return `${monthName(month)}: ${quantityLabel} inside ${against} ${percent(share)} of the time; the rest missed by ${signedText(typicalMiss, decimals, unitLabel)} on average, at most ${signedMostText(widestMiss, decimals, unitLabel)}.`;
}

/** "10 h 52 min" */
export function hoursWords(hours: number): string {
  const minutes = Math.round(hours * 60);
  return `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, "0")} min`;
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
  if (kind === "phase") return `Middle of the light ${size} ${way} ${span}, length judged apart.`;
  const why = isClockChange ? ": the clock change was not followed" : ": a timer set by an hour";
  return `Light one hour ${way} ${span}${why}.`;
}
