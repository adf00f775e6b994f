/** What is set up, as the evaluator is given it. */
import type { PlanShape, TargetBand } from "../habitat/index.ts";
import type { DatedSchedule } from "../light/index.ts";
import type { PointRole } from "../set-up/point-role.ts";
import type { ProbeBasis } from "../set-up/probe-basis.ts";
import type { Instant } from "../time/instant.ts";
import type { QuantityId } from "../units/quantity.ts";

export interface StreamFacts {
  readonly id: number;
  readonly system: string;
  readonly pointCode: string;
  readonly pointRole: PointRole;
  readonly quantity: QuantityId;
  readonly origin: "probe" | "bench" | "equipment" | "derived";
  readonly interval: number | null;
  readonly critical: boolean;
  /** Of a pH or ORP probe: what its numbers stand on, oldest first. If not given: `USUAL_BASIS`. */
  readonly basis?: readonly ProbeBasis[];
  /** The stream of the same quantity whose probe hangs in the same water, where this point is the twin of another. */
  readonly twin?: number | null;
  /** How much more (above 1) or less of its steps and of its days is tolerated before they are findings. Default 1. */
  readonly tolerance?: number;
}
export interface SystemFacts {
  readonly id: string;
  readonly water: "fresh" | "brackish" | "marine";
  readonly volume: number;
  readonly youngFilter: boolean;
  /** When it was closed; null or left out while it runs. */
  readonly closed?: Instant | null;
}
export interface PlanFacts {
  readonly system: string;
  readonly quantity: string;
  readonly shape: PlanShape;
  readonly validFrom: Instant;
  readonly validTo: Instant | null;
}
/** Somebody had a probe out of the water from..at; `isReset`: it was calibrated or changed, not only cleaned. */
export interface VisitFacts {
  readonly stream: number;
  readonly from: Instant;
  readonly at: Instant;
  readonly isReset: boolean;
}
export interface EvaluatorFacts {
  readonly system: SystemFacts;
  readonly zone: string;
  /** Metres above sea level, for station pressure where there is no barometer. */
  readonly elevation: number;
  readonly streams: readonly StreamFacts[];
  readonly bands: readonly TargetBand[];
  readonly plans: readonly PlanFacts[];
  /** In force, of the system's probes; none where it is left out. */
  readonly visits?: readonly VisitFacts[];
  /** Light schedules of the system; none where it is left out. */
  readonly lightPlans?: readonly DatedSchedule[];
}
