import { isInForce } from "../time/in-force.ts";
import type { Instant } from "../time/instant.ts";
import type { Stage } from "./profile.ts";

/** A species at a stage: the side of a conflict. */
export interface Side {
  readonly species: string;
  readonly stage: Stage;
}
/**
 * What a person signed for animals that share water but have no range in common. It covers one pair of sides and the named months,
 * and nothing else: where other animals come to disagree a person signs again.
 */
export interface Compromise {
  readonly id: string;
  readonly system: string;
  readonly quantity: string;
  /** Months (1 to 12) it was signed for. */
  readonly months: readonly number[];
  /** Who sets the low edge and who the high one in the conflict. */
  readonly lowSide: Side;
  readonly highSide: Side;
  /** Target and limits in the quantity's unit; a limit left null lies a margin beyond its edge. */
  readonly low: number;
  readonly high: number;
  readonly actionLow: number | null;
  readonly actionHigh: number | null;
  readonly reason: string;
  readonly signedBy: string;
  readonly signedAt: Instant;
  readonly validFrom: Instant;
  readonly validTo: Instant | null;
}

/** Whether a compromise was signed for this conflict in this month and is in force at an instant. */
export function covers(
  compromise: Compromise,
  conflict: { readonly low: Side; readonly high: Side },
  month: number,
  at: Instant,
): boolean {
  const same = (a: Side, b: Side) => a.species === b.species && a.stage === b.stage;
  return (
    isInForce(compromise, at) &&
    compromise.months.includes(month) &&
    same(compromise.lowSide, conflict.low) &&
    same(compromise.highSide, conflict.high)
  );
}
