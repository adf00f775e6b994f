import type { SeenAs } from "#app/_components/words/standing-words.ts";
import type { BenchAnswer } from "#contract/answers.ts";
import type { LastResult } from "#contract/bench-form-view.ts";
import type { UnitChoice } from "#core/bench/field.ts";
import type { Qualifier } from "#core/bench/typed-number.ts";
import type { BandEdges } from "#core/habitat/band.ts";
import { edgeText, rangeText, typedResultText } from "#core/units/number-text.ts";

/** A value of the registry's unit as it reads in a chosen one. */
const typedIn = (value: number, { factor, offset }: UnitChoice): number => (value - offset) / factor;

/** "< 0.02" where less than was typed, in the digits it was typed in. */
const resultIn = (value: number, qualifier: Qualifier, unit: UnitChoice): string =>
  typedResultText(typedIn(value, unit), qualifier, unit.decimals);

/** "band 7.90 to 8.30, act beyond 7.70 or 8.40" in the chosen unit; null where there is no band. */
export function bandLine(band: BandEdges | null, unit: UnitChoice): string | null {
  if (band === null || (band.low === null && band.high === null)) return null;
  const edge = (value: number | null) => (value === null ? null : typedIn(value, unit));
  const limits = [edge(band.actionLow), edge(band.actionHigh)]
    .filter((limit) => limit !== null)
    .map((limit) => edgeText(limit, unit.decimals));
  const act = limits.length === 0 ? "" : `, act beyond ${limits.join(" or ")}`;
  return `band ${rangeText({ low: edge(band.low), high: edge(band.high) }, unit.decimals)}${act}`;
}

/** How what was typed stands, in words that go with its mark. */
export const STAND_WORDS: Readonly<Record<SeenAs, string>> = {
  calm: "in band",
  look: "out of band",
  action: "past the action limit",
  doubtful: "not proven in band",
  unknown: "not known",
};

/** One of the last results, in the unit chosen now. */
export const lastText = ({ typed, unitTyped, value, qualifier }: LastResult, unit: UnitChoice): string =>
  // As it was typed where it can be: "8.10" keeps its figures.
  unitTyped === unit.typed
    ? `${qualifier === "=" ? "" : `${qualifier} `}${typed.replace("-", "−")}`
    : resultIn(value, qualifier, unit);

/** "1 test", "2 tests". */
export const many = (n: number, one: string): string => `${n} ${one}${n === 1 ? "" : "s"}`;

export type StoredRow = BenchAnswer["results"][number];
/** How a unit code is written for people. */
export type UnitLabel = (unit: string) => string;

/** As typed, with its unit: what the person wrote, not what it was converted to. */
export function typedWords(
  { qualifier, typed, unitTyped, unitLabel, unit }: StoredRow,
  label: UnitLabel,
): string {
  const name = unitTyped === unit ? unitLabel : label(unitTyped);
  return `${qualifier === "=" ? "" : `${qualifier} `}${typed}${name === "" ? "" : ` ${name}`}`;
}
