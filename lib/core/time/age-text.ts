/** How long ago, in one unit. Apart from longer lengths of time, which fewer screens need. */
import { DAY, HOUR, MINUTE, SECOND } from "./instant.ts";

export const UNITS = [
  [DAY, "days"],
  [HOUR, "h"],
  [MINUTE, "min"],
  [SECOND, "s"],
  [1, "ms"],
] as const;

/** The largest unit that tells: days from two on, else the largest of which there is one. */
export const largestOf = (ms: number): number => {
  const index = UNITS.findIndex(([unit, word]) => ms >= (word === "days" ? 2 * unit : unit));
  return index < 0 ? UNITS.length - 1 : index;
};

/** How long ago in one unit, rounded down so that nothing looks older than it is: "12 s", "42 min", "11 h", "3 days". */
export function ageText(ms: number): string {
  const whole = Math.max(0, ms);
  if (whole < SECOND) return "0 s";
  const [unit, word] = UNITS[largestOf(whole)] as (typeof UNITS)[number];
  return `${Math.floor(whole / unit)} ${word}`;
}
