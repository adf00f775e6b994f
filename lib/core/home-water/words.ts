/** Home water in sentences: numbers with their units, and what is not known said. */
import { monthName } from "../time/month-names.ts";
import { signedMostText } from "../units/bound-text.ts";
import { labelInSentence } from "../units/label-text.ts";
import { signedText } from "../units/number-text.ts";
import { percent } from "../units/share-text.ts";
import type { LeadFits } from "./lead-fit.ts";

interface Scored {
  readonly against: string;
  readonly year: { readonly share: number | null; readonly widestMiss: number | null };
}

/**
 * How near a quantity was to home: the share inside each native range first, then inside the band. "Temperature inside the native range of kelp
 * bass 13 % of the time that could be scored, widest miss +4.1 °C. Inside the target band 100 %."
 */
export function homeScoreSentence(
  { native, advice, band, lead }: LeadFits<Scored>,
  {
    label,
    unitLabel,
    decimals,
  }: { readonly label: string; readonly unitLabel: string; readonly decimals: number },
): string {
  const parts: string[] = [];
  const widest = ({ year }: Scored) =>
    year.widestMiss === null ? "" : `, widest miss ${signedMostText(year.widestMiss, decimals, unitLabel)}`;
  const [first, ...others] = native.filter(({ year }) => year.share !== null);
  if (first?.year.share != null) {
    const rest = others.map(({ against, year }) => `, of ${against} ${percent(year.share ?? 0)}`);
    parts.push(
      `${label} inside the native range of ${first.against} ${percent(first.year.share)} of the time that could be scored${widest(first)}${rest.join("")}.`,
    );
  } else if (native.length > 0) parts.push(`${label}: nothing could be scored against the native range.`);
  const names = advice.map(({ against }) => against);
  if (native.length === 0) parts.push(`No native ${labelInSentence(label)} range is known.`);
  else if (names.length > 0)
    parts.push(`The native ${labelInSentence(label)} range of ${names.join(" and ")} is not known.`);
  const second = band ?? (native.length === 0 ? lead : null);
  if (second?.year.share != null)
    parts.push(
      `Inside ${second === band ? second.against : `the advised range of ${second.against}`} ${percent(second.year.share)}${first?.year.share == null ? ` of the time that could be scored${widest(second)}` : ""}.`,
    );
  return parts.join(" ");
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
