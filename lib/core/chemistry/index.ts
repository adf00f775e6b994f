export {
  type AmmoniaFraction,
  type AmmoniaWater,
  ammoniaFraction,
  type UnionisedAmmonia,
  unionisedAmmonia,
} from "./ammonia.ts";
export {
  type AmmoniaSensitivity,
  type AmmoniaUncertainty,
  ammoniaSensitivity,
} from "./ammonia-uncertainty.ts";
export { type OxygenPercent, oxygenFromPercent, oxygenPercent, oxygenSaturation } from "./oxygen.ts";
export { convertPh, type PhScale } from "./ph-scale.ts";
export { stationPressure } from "./pressure.ts";
export type { Computed, ComputedIn, ComputedStatus } from "./result.ts";
export { conductivityFromSalinity, practicalSalinity } from "./salinity.ts";
export {
  conductivityFromSpecificConductance,
  DEFAULT_ALPHA,
  specificConductance25,
} from "./specific-conductance.ts";
export { type Water, waterFromSalinity } from "./water.ts";
