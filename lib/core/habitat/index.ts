export {
  type BandEdges,
  type BandMonth,
  type BandOrigin,
  bandFor,
  edgesAt,
  edgesFor,
  edgesWithin,
  faultsAt,
  faultsOf,
  NO_EDGES,
  type ResidentRange,
  type TargetBand,
} from "./band.ts";
export { bandsOver } from "./bands-over.ts";
export * from "./breeding.ts";
export {
  type Composite,
  type CompositeMonth,
  type Conflict,
  composite,
  coveredQuantities,
  type EdgeOrigin,
  type LimitOrigin,
} from "./composite.ts";
export type { Compromise, Side } from "./compromise.ts";
export { noCommonRangeWords, rangesWithoutCommon } from "./conflict-words.ts";
export { censoredDeviation, deviation } from "./deviation.ts";
export { keepTo, sameMonths } from "./follow.ts";
export { type MonthRange, rangesIn } from "./monthly.ts";
export { type CountStand, countAsked, countWords, type Night, type NightCount } from "./night-count.ts";
export { type PlanShape, planAt } from "./plan.ts";
export type { HomeWaterSeries, LightPlan, SeasonPlan } from "./plans.ts";
export * from "./profile.ts";
export type { Meanwhile } from "./ranges-apart.ts";
export { changesFrom, holds, livingAt, ofCount, type Stay, type StayEnd } from "./residents.ts";
export { DEFAULTED_QUANTITIES, STARTING_BAND_SOURCE, STARTING_BANDS, startingBand } from "./type-defaults.ts";
export { type Visit, visitsOf } from "./visits.ts";
export { countedWindow, rampsWatched, type WatchedRamps, type WatchedSpan, watchedSpans } from "./watched.ts";
