/** What is set up, as the evaluator is told of it. */
import type { PhScale, ReferenceElectrode } from "../chemistry/index.ts";
import type { PlanShape, TargetBand } from "../habitat/index.ts";
import type { Instant } from "../time/instant.ts";

export interface StreamFacts {
  readonly id: number;
  readonly system: string;
  readonly pointCode: string;
  readonly quantity: string;
  readonly origin: "probe" | "bench" | "equipment" | "derived";
  readonly interval: number | null;
  readonly critical: boolean;
  /** Of a pH probe: the scale of the buffers it was calibrated in. Default `nbs`, ordinary buffers of pH 4, 7 and 10. */
  readonly phScale?: PhScale;
  /** Of a pH probe: what to add to its reading to have the pH on its scale, as found against a buffer or a tris standard. Default 0. */
  readonly phOffset?: number;
  /** Of an ORP probe: the electrode its reading is against. Default Ag/AgCl in 3 M KCl (common practice, no source). */
  readonly electrode?: ReferenceElectrode;
}
export interface SystemFacts {
  readonly id: string;
  readonly water: "fresh" | "brackish" | "marine";
  readonly volume: number;
  readonly youngFilter: boolean;
}
export interface PlanFacts {
  readonly system: string;
  readonly quantity: string;
  readonly shape: PlanShape;
  readonly validFrom: Instant;
  readonly validTo: Instant | null;
}
export interface EvaluatorFacts {
  readonly system: SystemFacts;
  readonly zone: string;
  /** Metres above sea level, for station pressure where there is no barometer. */
  readonly elevation: number;
  readonly streams: readonly StreamFacts[];
  readonly bands: readonly TargetBand[];
  readonly plans: readonly PlanFacts[];
}
