export { type Climatology, climatologyOf } from "./climatology.ts";
export { greatCircle, type Place } from "./great-circle.ts";
export {
  COARSE,
  FARTHEST_BOX,
  monthlyDayLengths,
  NATIVE_SOURCES,
  type NativeWater,
  nativeWaterAt,
} from "./native-water.ts";
export { monthsOfValues, type OwnValue } from "./own-months.ts";
export { ownSeries } from "./own-series.ts";
