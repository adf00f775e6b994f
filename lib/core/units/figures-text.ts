/** Counts, and numbers with as many figures as they have. */
import { isKnown, NOT_KNOWN, plain } from "./number-text.ts";
import { roundToFigures } from "./rounding.ts";

/** A count, with a comma between thousands: "12,345". */
export const countText = (count: number): string =>
  Number.isFinite(count) ? plain(count, 0).replace(/\B(?=(?:\d{3})+$)/g, ",") : NOT_KNOWN;

/** A count with what is counted: "1 reading", "12,345 readings". */
export const countOf = (count: number, one: string, many = `${one}s`): string =>
  `${countText(count)} ${count === 1 ? one : many}`;

/** A number with as many significant figures as the inspection of a working needs; never more than it has. */
export function figuresText(value: number | null, figures = 6): string {
  if (!isKnown(value)) return NOT_KNOWN;
  if (value === 0) return "0";
  const size = Math.abs(value);
  const text =
    size >= 1e7 || size < 1e-4
      ? value.toExponential(figures - 1).replace(/\.?0+e/, "e")
      : String(roundToFigures(value, figures));
  return text.replaceAll("-", "−");
}
