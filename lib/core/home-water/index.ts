export { lifeSentence } from "./life-words.ts";
export { mergedSpans, type Ribbon, ribbonOf } from "./ribbon.ts";
export { gapSentence, lightSentence } from "./words.ts";
