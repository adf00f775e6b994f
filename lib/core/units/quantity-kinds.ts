import type { Unit } from "./unit.ts";

export type QuantityKind = "number" | "state";

/** An amount in the quantity's unit and a share of the value; the larger of the two counts. */
export type Size = readonly [amount: number, share: number];

/** What keepers go by for a quantity. Common practice, no source, unless said otherwise; null is an answer: it is not asked of this one. */
export interface Practice {
  /** How soon hands should be on the problem, minutes. */
  readonly actWithin: number;
  /** The smallest change that a keeper would act on, as a sign of what lies behind an incident. */
  readonly matters: Size;
  /** Standard deviation of repeated tests of the same water, as the usual kits and titrations repeat; null: its results are not checked for a trend. */
  readonly repeats: Size | null;
  /** Days between calibrations of its probe; null: none is expected (flow, level ...). */
  readonly calibratedEvery: number | null;
  /**
   * Probe against bench: scatter of their difference until ten pairs have told it, and the mean difference that matters, both in percent of
   * the bench value or in the unit; from the first difference on where two probes never agree (ORP). Null: it is not compared with the bench.
   */
  readonly check: {
    readonly sigma: number;
    readonly matters: number;
    readonly isPercent: boolean;
    readonly fromFirst: boolean;
  } | null;
  /**
   * The practical part of the thresholds on its course: from one reading to the next, away from what is usual at this hour, over a week; how
   * long unchanged is stuck; whether a probe in air reads next to nothing. Null: its course is not judged.
   */
  readonly course: {
    readonly step: Size;
    readonly day: Size;
    readonly week: Size;
    readonly flatHours: number;
    readonly readsInAir: boolean;
  } | null;
}

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
  /** Only ever computed from others: nobody types it in. */
  readonly isComputed: boolean;
  readonly practice: Practice;
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
  /** How long a wrong word must last: pumps 90 s, contacts 10 s (a float rides the waves), supplies and leaks at once. Common practice, no source. */
  readonly delaySeconds: number;
  readonly source: string;
}
