import { labelInSentence } from "../units/label-text.ts";
import { beside, rangeText } from "../units/number-text.ts";
import { labelOf } from "../units/quantity-label.ts";
import type { Compromise } from "./compromise.ts";

/** What was signed, in words: "temperature, 11.0 to 12.5 °C". */
export function compromiseWords({
  quantity,
  low,
  high,
}: Pick<Compromise, "quantity" | "low" | "high">): string {
  const { label, unitLabel, decimals } = labelOf(quantity);
  return `${labelInSentence(label)}, ${beside(rangeText({ low, high }, decimals), unitLabel)}`;
}
