/** How a failure is described: what it leads one to expect, what speaks against it, what to do first. */
import type { FindingKind, RuleOf } from "../alarms/finding.ts";
import type { LogKindId } from "../logbook/kinds.ts";
import type { PointTrait } from "../set-up/point-role.ts";
import type { QuantityId, StateQuantityId } from "../units/quantity.ts";

export type Does = "rises" | "falls" | "moves" | "steps up" | "steps down" | "steady";

/** A finding raised by one of these rules. */
type ExpectedFinding<K extends FindingKind> = K extends FindingKind
  ? { readonly finding: K; readonly rules: readonly RuleOf<K>[]; readonly of?: QuantityId }
  : never;

/**
 * One thing that a failure leads one to expect. Without a needed one it is not offered, and where some are its own, not without one of those: what
 * tells it from what looks like it must have been seen.
 */
export type Expectation = {
  readonly weight: number;
  readonly needed?: true;
  readonly own?: true;
  readonly says: string;
} & (
  | {
      readonly of: readonly QuantityId[];
      /** Points whose role has this property, or every point; where it is left out, the system's water but where ozone is added. */
      readonly at?: PointTrait | "loop" | "anywhere";
      readonly does: Does;
      readonly over?: "hours" | "days";
      readonly origin?: "bench" | "probe";
    }
  | { readonly state: StateQuantityId; readonly words: readonly string[] }
  | { readonly logged: readonly LogKindId[] }
  | ExpectedFinding<FindingKind>
  /** Most systems that share no loop with it do so at the same time. */
  | { readonly elsewhere: QuantityId; readonly does: "rises" | "falls" | "steady" }
  /** At least two systems of its loop do so at the same time, and most of them. */
  | { readonly sharing: QuantityId; readonly does: "rises" | "falls" }
  /** It moved as its plan asked. */
  | { readonly onPlan: QuantityId }
  /** The water goes back to its band. */
  | { readonly returns: true }
  | { readonly methodOf: readonly QuantityId[] }
  /** Two methods of the bench find the same. */
  | { readonly confirmed: readonly QuantityId[] }
  /** At least so many streams frozen or silent since the same minutes. */
  | { readonly stopped: number }
  /** Readings of it come, and their time cannot be believed. */
  | { readonly isHeld: true }
);
export interface Failure {
  readonly id: string;
  readonly label: string;
  /** False: an explanation that needs no action, shown beside the failures that look like it. */
  readonly isFailure: boolean;
  readonly expect: readonly Expectation[];
  /** What speaks against it where it is seen. */
  readonly against?: readonly Expectation[];
  /** It explains only that water goes back to its band. */
  readonly isReturn: boolean;
  /** One needed sign is enough, instead of all. */
  readonly any?: true;
  readonly checkFirst: string;
  readonly caution?: string;
  readonly actWithinMinutes: number;
}
