/** Bounds as people read them: rounded outward, never inward, so that what was promised still holds. */
import {
  beside,
  CERTAIN,
  isKnown,
  NOT_KNOWN,
  numberText,
  placesOf,
  plain,
  signedText,
} from "./number-text.ts";
import { roundToFigures } from "./rounding.ts";

/** The most that a number can be written with. */
const MOST_PLACES = 100;

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

/** A result with what its method could tell: "8.10", and "< 0.25" in its own digits; a computed bound is rounded outward. */
export function resultText(value: number | null, qualifier: "=" | "<" | ">", decimals: number): string {
  if (qualifier === "=" || !isKnown(value)) return numberText(value, decimals);
  const places = placesOf(value, 0, decimals);
  if (places !== null) return `${qualifier} ${plain(value, places)}`;
  return `${qualifier} ${qualifier === "<" ? highText(value, decimals) : lowText(value, decimals)}`;
}
