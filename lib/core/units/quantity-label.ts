import { quantity } from "./quantity.ts";

export interface QuantityLabel {
  readonly label: string;
  /** UCUM code; empty for states and for an id that the registry does not have. */
  readonly unit: string;
  readonly unitLabel: string;
  readonly decimals: number;
}

/** How a quantity is named and written. A quantity that left the registry keeps its id as its name. */
export function labelOf(id: string): QuantityLabel {
  const spec = quantity(id);
  if (!spec) return { label: id, unit: "", unitLabel: "", decimals: 2 };
  if (spec.kind === "state") return { label: spec.label, unit: "", unitLabel: "", decimals: 0 };
  return { label: spec.label, unit: spec.unit, unitLabel: spec.unitLabel, decimals: spec.decimals };
}
