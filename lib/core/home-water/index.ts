export { MEAN_HALF, mergedSpans, type Ribbon, ribbonOf } from "./ribbon.ts";
export { homeWaterTable } from "./table.ts";
export { gapSentence, hoursWords, lightSentence, monthName, monthRuns, percent, signed } from "./words.ts";
