import type { Unit } from "./unit.ts";

export type QuantityKind = "number" | "state";

/** A measured number: its unit, how it is written, what a sensor can say and what water can be. */
export interface NumberQuantity {
  readonly id: string;
  readonly kind: "number";
  readonly label: string;
  /** Heading of a narrow column. */
  readonly short: string;
  readonly unit: Unit;
  /** The unit as people read it; empty where there is none. */
  readonly unitLabel: string;
  readonly decimals: number;
  /** What a sensor of this kind can report at all; outside, the reading is failed. */
  readonly sensor: readonly [low: number, high: number];
  /** What water in an aquarium building can be; outside, the reading is suspect. */
  readonly plausible: readonly [low: number, high: number];
  /** The side that harms animals. */
  readonly harm: "low" | "high" | "both" | "none";
  /** Where unit, decimals and spans come from. */
  readonly source: string;
}

/** A state with words. A stored state value is the index of its word in `words`. */
export interface StateQuantity {
  readonly id: string;
  readonly kind: "state";
  readonly label: string;
  readonly short: string;
  readonly words: readonly string[];
  /** Words that say something is not as it should be, and how serious that is. */
  readonly wrong: Readonly<Record<string, "look" | "action">>;
  readonly source: string;
}
