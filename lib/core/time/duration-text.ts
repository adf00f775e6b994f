/** Lengths of time as people read them. */
import { largestOf, UNITS } from "./age-text.ts";
import { MINUTE } from "./instant.ts";

type Rounding = (value: number) => number;

function text(ms: number, rounded: Rounding): string {
  if (!(ms >= 1)) return ms > 0 && rounded === Math.ceil ? "1 ms" : "0 s";
  const index = largestOf(ms);
  const [unit, word] = UNITS[index] as (typeof UNITS)[number];
  const [finer, finerWord] = UNITS[index + 1] ?? [unit, word];
  // Seconds beside ten minutes or more, and hours beside ten days or more, say nothing.
  const isCoarse = word === "s" || word === "ms" || (word !== "h" && ms >= 10 * unit);
  const step = isCoarse ? unit : finer;
  const whole = rounded(ms / step) * step;
  // Rounded up it may have become one of a larger unit.
  if (largestOf(whole) !== index) return text(whole, rounded);
  if (isCoarse) return `${whole / unit} ${word}`;
  const rest = Math.round((whole % unit) / finer);
  return `${Math.floor(whole / unit)} ${word}${rest === 0 ? "" : ` ${rest} ${finerWord}`}`;
}

/** How long it lasted or is, rounded down in its last unit: "45 s", "1 min 30 s", "42 min", "2 h 10 min", "3 days". */
export const durationText = (ms: number): string => text(Math.max(0, ms), Math.floor);
/** How long at most, rounded up. */
export const longestText = (ms: number): string => text(Math.max(0, ms), Math.ceil);

/** Hours of a day, to the minute: "10 h 52 min"; "0 h" for none. */
export const hoursText = (hours: number): string =>
  Math.round(hours * 60) === 0 ? "0 h" : durationText(Math.round(hours * 60) * MINUTE);
