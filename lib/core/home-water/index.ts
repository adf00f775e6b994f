export { type FitRow, fitRows, type Kin, kinOf, ribbonOfKin } from "./fit-rows.ts";
export { homeQuantities, homeStreams } from "./home-streams.ts";
export { type LeadFits, leadFits } from "./lead-fit.ts";
export { lifeSentence } from "./life-words.ts";
export { mergedSpans, type Ribbon, ribbonOf } from "./ribbon.ts";
export { gapSentence, homeScoreSentence, lightSentence } from "./words.ts";
