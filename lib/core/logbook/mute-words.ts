/** What a rule of a log entry mutes, in words. */
import type { PointTrait } from "../set-up/point-role.ts";
import { labelInSentence } from "../units/label-text.ts";
import { labelOf } from "../units/quantity-label.ts";
import type { QuietPart, QuietRule } from "./kinds.ts";

const PARTS: Readonly<Record<QuietPart, string>> = { rate: "rate of change of ", low: "low ", all: "" };
const WHERE: Readonly<Record<PointTrait, string>> = {
  isAnimalsWater: " in exhibits",
  followsOzoneController: " in contact chambers",
  showsLevel: " in sumps",
  isAtFilter: " at filters",
};

/** "rate of change of pH", "low ORP in contact chambers", "turbidity at display". */
export const muteWords = ({ quantity, part, at, point }: QuietRule): string =>
  [
    `${PARTS[part]}${labelInSentence(labelOf(quantity).label)}`,
    at === null ? "" : WHERE[at],
    point === null ? "" : ` at ${point}`,
  ].join("");
