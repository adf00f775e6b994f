import type { ResidentsView } from "#contract/habitat.ts";
import { beside, rangeText } from "#core/units/number-text.ts";
import { labelOf } from "#core/units/quantity-label.ts";

/** "24.0 to 25.0 °C": the target range that a compromise sets, its edges as they were signed. */
export function signedRange({
  quantity,
  low,
  high,
}: Pick<ResidentsView["compromises"][number], "quantity" | "low" | "high">): string {
  const { decimals, unitLabel } = labelOf(quantity);
  return beside(rangeText({ low, high }, decimals), unitLabel);
}
