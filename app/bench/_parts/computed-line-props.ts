import type { BenchWaterView } from "#contract/bench-water.ts";
import type { BandEdges } from "#core/habitat/band.ts";
import type { Examined } from "./draft.ts";

/** What a computed value stands on. */
export interface ComputedLineProps {
  readonly quantity: string;
  /** Every field of the form: what it says of the water comes before what probes say. */
  readonly examined: ReadonlyMap<string, Examined>;
  readonly water: BenchWaterView;
  readonly band: BandEdges | null;
  readonly sampledAt: number;
  readonly now: number;
  readonly zone: string;
}
