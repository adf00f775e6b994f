/**
 * Numbers as people read them, for every screen, sentence and report: fixed decimals, a true minus sign, and no zero that is only
 * rounding. What is no number is "not known".
 */
import { roundToFigures } from "./rounding.ts";

export const NOT_KNOWN = "not known";
/** Figures that a double of decimal origin holds for certain; what differs beyond them is no difference. */
export const CERTAIN = 12;
/** Places beyond the usual ones that a number as stored may be written with. */
const FINER = 3;
/** Fixed decimals with a true minus sign; no sign before a zero. */
export const plain = (value: number, decimals: number): string => {
  const text = Math.abs(value).toFixed(decimals);
  return value < 0 && Number(text) !== 0 ? `−${text}` : text;
};
export const isKnown = (value: number | null): value is number => value !== null && Number.isFinite(value);

/** 26.94 with one decimal is "26.9"; 0.04 is "< 0.1" and -0.04 is "> −0.1": a value that is not zero never reads as zero. */
export function numberText(value: number | null, decimals: number): string {
  if (!isKnown(value)) return NOT_KNOWN;
  if (value === 0 || Number(value.toFixed(decimals)) !== 0) return plain(value, decimals);
  const last = plain(10 ** -decimals, decimals);
  return value > 0 ? `< ${last}` : `> −${last}`;
}

/** The number with its unit beside it; pure numbers such as pH and salinity have none. "%" stands after a space too (SI brochure 5.4.7). */
export const withUnit = (value: number | null, decimals: number, unitLabel: string): string =>
  beside(numberText(value, decimals), unitLabel);

/** A number, already text, with its unit; none where it is not known. */
export const beside = (text: string, unitLabel: string): string =>
  unitLabel === "" || text === NOT_KNOWN ? text : `${text} ${unitLabel}`;

/** A difference or a rate with its sign: "+0.3 °C", "−0.3 °C", "0.0 °C" for none at all, "< +0.1 °C" for next to none. */
export function signedText(value: number | null, decimals: number, unitLabel = ""): string {
  const text = withUnit(value, decimals, unitLabel);
  if (!isKnown(value) || value <= 0) return text;
  return text.startsWith("< ") ? `< +${text.slice(2)}` : `+${text}`;
}

/** The fewest places from `least` on that give the value as it is; null where it takes more than three beyond `decimals`. */
export function placesOf(value: number, least: number, decimals: number): number | null {
  const sure = roundToFigures(value, CERTAIN);
  for (let places = least; places <= decimals + FINER; places += 1)
    if (Number(sure.toFixed(places)) === sure) return places;
  return null;
}

/** A result as it was typed: "8.10", and "< 0.25" in its own digits, of which it has at most three more than usual. */
export function typedResultText(value: number | null, qualifier: "=" | "<" | ">", decimals: number): string {
  if (qualifier === "=" || !isKnown(value)) return numberText(value, decimals);
  return `${qualifier} ${plain(value, placesOf(value, 0, decimals) ?? decimals + FINER)}`;
}

/** An action limit or an edge of a band as it is stored, never rounded: 0.005 with two decimals is "0.005". One computed between two months reads like any value. */
export function edgeText(value: number | null, decimals: number): string {
  if (!isKnown(value)) return NOT_KNOWN;
  const places = placesOf(value, decimals, decimals);
  return places === null ? numberText(value, decimals) : plain(value, places);
}

/** The edge with its unit beside it. */
export const edgeWithUnit = (value: number | null, decimals: number, unitLabel: string): string =>
  beside(edgeText(value, decimals), unitLabel);

interface Edges {
  readonly low: number | null;
  readonly high: number | null;
}
/** "7.80 to 8.20", "at least 7.80", "at most 8.20", "open": edges as they are stored. */
export function rangeText({ low, high }: Edges, decimals: number): string {
  if (low !== null && high !== null) return `${edgeText(low, decimals)} to ${edgeText(high, decimals)}`;
  if (low !== null) return `at least ${edgeText(low, decimals)}`;
  return high === null ? "open" : `at most ${edgeText(high, decimals)}`;
}
