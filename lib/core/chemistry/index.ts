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
export {
  type CarbonateFromPh,
  type CarbonateResult,
  type CarbonateSystem,
  type CarbonateWater,
  carbonateFromAlkalinityCarbon,
  carbonateFromAlkalinityPco2,
  carbonateFromPhAlkalinity,
  carbonateFromPhCarbon,
} from "./carbonate.ts";
export type { CarbonateConstantSet } from "./carbonate-constants.ts";
export {
  type CarbonatePart,
  type CarbonateUncertainty,
  carbonateUncertainty,
  FIELD_CARBONATE,
} from "./carbonate-uncertainty.ts";
export {
  CIVIL_HORIZON,
  type DayLength,
  type DayLengthInput,
  dayLength,
  SUNRISE_HORIZON,
  type SunCourse,
} from "./day-length.ts";
export {
  type HydrometerReading,
  salinityFromHydrometer,
  seawaterDensity,
  specificGravity,
} from "./density.ts";
export { freezingPoint } from "./freezing.ts";
export {
  type GasPressure,
  type GasTensiometerReading,
  gasExcessAtDepth,
  totalGasPressure,
} from "./gas-pressure.ts";
export { type DissolvedGas, gasSolubility } from "./gas-solubility.ts";
export { type Osmolality, osmolality } from "./osmolality.ts";
export { type OxygenPercent, oxygenFromPercent, oxygenPercent, oxygenSaturation } from "./oxygen.ts";
export { FIELD_OXYGEN, type OxygenUncertainty, oxygenPercentUncertainty } from "./oxygen-uncertainty.ts";
export { convertPh, type PhScale } from "./ph-scale.ts";
export { stationPressure } from "./pressure.ts";
export { ehFromOrp, REFERENCE_ELECTRODES, type RedoxPotential, type ReferenceElectrode } from "./redox.ts";
export { type RefractometerReading, salinityFromRefractometer } from "./refractometer.ts";
export type { Computed, ComputedIn, ComputedStatus } from "./result.ts";
export { conductivityFromSalinity, practicalSalinity } from "./salinity.ts";
export {
  FIELD_CONDUCTIVITY,
  type SalinityUncertainty,
  salinityUncertainty,
} from "./salinity-uncertainty.ts";
export {
  conductivityFromSpecificConductance,
  DEFAULT_ALPHA,
  specificConductance25,
} from "./specific-conductance.ts";
export { type Water, waterFromSalinity } from "./water.ts";
