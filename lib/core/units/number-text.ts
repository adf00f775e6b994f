/**
 * Numbers as people read them, for every screen, sentence and report: fixed decimals, a true minus sign, and no zero that is only
 * rounding. What is no number is "not known".
 */
import { roundToFigures } from "./rounding.ts";

const NOT_KNOWN = "not known";
/** Figures that a double of decimal origin holds for certain; what differs beyond them is no difference. */
const CERTAIN = 12;
/** Places beyond the usual ones that a number as stored may be written with. */
const FINER = 3;
/** The most that a number can be written with. */
const MOST_PLACES = 100;

const plain = (value: number, decimals: number): string => {
  const text = Math.abs(value).toFixed(decimals);
  return value < 0 && Number(text) !== 0 ? `−${text}` : text;
};
const isKnown = (value: number | null): value is number => value !== null && Number.isFinite(value);

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

/** Rounded to the side that `away` names, with more places where fewer would make a zero of what is none. */
function outward(value: number, decimals: number, away: 1 | -1): string {
  const sure = roundToFigures(value, CERTAIN);
  for (let places = decimals; places < MOST_PLACES; places += 1) {
    const near = Number(sure.toFixed(places));
    const isBeyond = away > 0 ? near >= sure : near <= sure;
    const bound = isBeyond ? near : near + away * 10 ** -places;
    if (sure === 0 || Number(bound.toFixed(places)) !== 0) return plain(bound, places);
  }
  return plain(sure, MOST_PLACES);
}

/** The low end of an interval, or "at least": never above the value. */
export const lowText = (value: number | null, decimals: number): string =>
  isKnown(value) ? outward(value, decimals, -1) : NOT_KNOWN;
/** The high end of an interval, or "at most": never below the value. */
export const highText = (value: number | null, decimals: number): string =>
  isKnown(value) ? outward(value, decimals, 1) : NOT_KNOWN;

/** A difference that is at most so large, with its sign: rounded away from nothing. */
export function signedMostText(value: number | null, decimals: number, unitLabel = ""): string {
  if (!isKnown(value) || value === 0) return signedText(value, decimals, unitLabel);
  return beside(value > 0 ? `+${highText(value, decimals)}` : lowText(value, decimals), unitLabel);
}

/** "0.0026 to 0.0066", rounded outward, so that what lies between the ends still does; empty where an end is not known. */
export const intervalText = (low: number | null, high: number | null, decimals: number): string =>
  isKnown(low) && isKnown(high) ? `${lowText(low, decimals)} to ${highText(high, decimals)}` : "";

/** The fewest places from `least` on that give the value as it is; null where it takes more than three beyond `decimals`. */
function placesOf(value: number, least: number, decimals: number): number | null {
  const sure = roundToFigures(value, CERTAIN);
  for (let places = least; places <= decimals + FINER; places += 1)
    if (Number(sure.toFixed(places)) === sure) return places;
  return null;
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

/** A result with what its method could tell: "8.10", and "< 0.25" in its own digits; a computed bound is rounded outward. */
export function resultText(value: number | null, qualifier: "=" | "<" | ">", decimals: number): string {
  if (qualifier === "=" || !isKnown(value)) return numberText(value, decimals);
  const places = placesOf(value, 0, decimals);
  if (places !== null) return `${qualifier} ${plain(value, places)}`;
  return `${qualifier} ${qualifier === "<" ? highText(value, decimals) : lowText(value, decimals)}`;
}

/** A count, with a comma between thousands: "12,345". */
export const countText = (count: number): string =>
  Number.isFinite(count) ? plain(count, 0).replace(/\B(?=(?:\d{3})+$)/g, ",") : NOT_KNOWN;

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
