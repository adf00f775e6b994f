export { animalWaterTable } from "./animal-table.ts";
export { lifeSentence } from "./life-words.ts";
export { mergedSpans, type Ribbon, ribbonOf } from "./ribbon.ts";
export { homeWaterTable } from "./table.ts";
export { gapSentence, lightSentence, monthRuns, percent, signed } from "./words.ts";
