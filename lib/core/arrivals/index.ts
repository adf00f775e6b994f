export { clockSkew } from "./clock-skew.ts";
export { type Numbered, sequenceAccount } from "./sequence-gaps.ts";
