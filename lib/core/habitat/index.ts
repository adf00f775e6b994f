export {
  type BandEdges,
  bandFor,
  edgesAt,
  edgesWithin,
  faultsOf,
  NO_EDGES,
  type TargetBand,
} from "./band.ts";
export { censoredDeviation, deviation } from "./deviation.ts";
export { type PlanShape, planAt } from "./plan.ts";
