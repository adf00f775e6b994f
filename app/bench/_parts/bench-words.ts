import { valueWords } from "#app/_components/words/number-words.ts";
import type { SeenAs } from "#app/_components/words/standing-words.ts";
import type { BenchAnswer } from "#contract/answers.ts";
import type { LastResult } from "#contract/bench-form-view.ts";
import type { UnitChoice } from "#core/bench/field.ts";
import type { Qualifier } from "#core/bench/typed-number.ts";
import type { BandEdges } from "#core/habitat/band.ts";

/** A value of the registry's unit as it reads in a chosen one. */
export const inUnit = (value: number, { factor, offset, decimals }: UnitChoice): string =>
  valueWords((value - offset) / factor, decimals);

/** "< 0.02" where less than was typed; the sign never stands twice. */
export function resultText(value: number, qualifier: Qualifier, unit: UnitChoice): string {
  const text = inUnit(value, unit);
  return qualifier === "=" || text.startsWith("<") ? text : `${qualifier} ${text}`;
}

const between = (low: string | null, high: string | null): string => {
  if (low !== null && high !== null) return `${low} to ${high}`;
  return high === null ? `from ${low}` : `up to ${high}`;
};

/** "band 7.90 to 8.30, act beyond 7.70 or 8.40" in the chosen unit; null where there is no band. */
export function bandLine(band: BandEdges | null, unit: UnitChoice): string | null {
  if (band === null || (band.low === null && band.high === null)) return null;
  const text = (edge: number | null) => (edge === null ? null : inUnit(edge, unit));
  const limits = [text(band.actionLow), text(band.actionHigh)].filter((limit) => limit !== null);
  const act = limits.length === 0 ? "" : `, act beyond ${limits.join(" or ")}`;
  return `band ${between(text(band.low), text(band.high))}${act}`;
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
    : resultText(value, qualifier, unit);

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
