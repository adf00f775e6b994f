/** The parts of a working in words, for a page and for print alike. */

import { intervalText, resultText } from "../units/bound-text.ts";
import { figuresText } from "../units/figures-text.ts";
import { beside } from "../units/number-text.ts";
import type { Working, WorkingInput } from "./view.ts";

const signOf = (mark: WorkingInput["mark"]) => (mark === null ? "=" : mark === "below" ? "<" : ">");

/** The number with its interval and unit: "0.0042 mg/L (0.0026 to 0.0066)"; one digit more than elsewhere, since it is to be followed. */
export function resultWords(
  view: Pick<Working, "value" | "low" | "high" | "mark" | "decimals" | "unitLabel">,
) {
  const { value, low, high, mark, unitLabel } = view;
  if (value === null) return "not known";
  const decimals = view.decimals + 1;
  const interval = intervalText(low, high, decimals);
  return `${beside(resultText(value, signOf(mark), decimals), unitLabel)}${interval === "" ? "" : ` (${interval})`}`;
}

/** How times and lengths of time are written: a page and a printed text do it each in their way. */
export interface TimeWriter {
  when(at: number): string;
  long(ms: number): string;
}

/** "8.02, probe at display, 06:25, 4 min before" */
export function inputWords(input: WorkingInput, time: TimeWriter): string {
  if (input.value === null) return input.note ?? "none recent enough";
  const from =
    input.origin === "system" ? null : `${input.origin}${input.point === null ? "" : ` at ${input.point}`}`;
  const age = input.age === null || input.age === 0 ? null : `${time.long(input.age)} before`;
  return [
    beside(resultText(input.value, signOf(input.mark), input.decimals + 1), input.unitLabel),
    from,
    input.at === null ? null : time.when(input.at),
    age,
    input.flag === null ? null : `flag ${input.flag}`,
    input.note,
  ]
    .filter((part) => part !== null)
    .join(", ");
}

/** What one input's uncertainty adds, in words. */
export const partWords = (part: Working["uncertainty"][number], unitLabel: string): string =>
  `${part.of}, adds ${part.isRelative ? `${figuresText(part.adds, 2)} %` : beside(figuresText(part.adds, 2), unitLabel)}`;
