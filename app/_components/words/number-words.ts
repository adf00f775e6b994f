import { signedText, withUnit } from "#core/units/number-text.ts";

/** A rate with one place more than the quantity, and its sign. */
export const rateWords = (rate: number, decimals: number, unitLabel: string): string =>
  `${signedText(rate, decimals + 1, unitLabel)} an hour`;

/** Volume in m3, without needless places. */
export function volumeWords(m3: number): string {
  const isWhole = m3 >= 10 || (m3 >= 1 && Math.round(10 * m3) % 10 === 0);
  return withUnit(m3, isWhole ? 0 : 1, "m³");
}
