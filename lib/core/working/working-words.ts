/** The parts of a working in words, for a page and for print alike. */
import { numberText, withUnit } from "../wire/number-text.ts";
import type { WorkingInput, WorkingView } from "../wire/working-views.ts";
import { figures } from "./explanation.ts";

/** A number, already text, with its unit. */
export const beside = (text: string, unit: string) => (unit === "" ? text : `${text} ${unit}`);

/** The number with its interval and unit: "0.0042 mg/L (0.0026 to 0.0066)"; one digit more than elsewhere, since it is to be followed. */
export function resultWords(
  view: Pick<WorkingView, "value" | "low" | "high" | "mark" | "decimals" | "unitLabel">,
) {
  const { value, low, high, mark, unitLabel } = view;
  if (value === null) return "not known";
  const decimals = view.decimals + 1;
  const text = numberText(value, decimals);
  const sign = mark === null || text.startsWith("<") ? "" : mark === "below" ? "< " : "> ";
  const interval =
    low === null || high === null ? "" : ` (${numberText(low, decimals)} to ${numberText(high, decimals)})`;
  return `${sign}${beside(text, unitLabel)}${interval}`;
}

/** How times and lengths of time are written: a page and a printed text do it each in their way. */
export interface TimeWriter {
  when(at: number): string;
  long(ms: number): string;
}

/** "8.02, probe at display, 06:25, 4 min before" */
export function inputWords(input: WorkingInput, time: TimeWriter): string {
  if (input.value === null) return input.note ?? "none recent enough";
  const sign = input.mark === null ? "" : input.mark === "below" ? "< " : "> ";
  const from =
    input.origin === "system" ? null : `${input.origin}${input.point === null ? "" : ` at ${input.point}`}`;
  const age = input.age === null || input.age === 0 ? null : `${time.long(input.age)} before`;
  return [
    `${sign}${withUnit(input.value, input.decimals + 1, input.unitLabel)}`,
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
export const partWords = (part: WorkingView["uncertainty"][number], unitLabel: string): string =>
  `${part.of}, adds ${part.isRelative ? `${figures(part.adds, 2)} %` : beside(figures(part.adds, 2), unitLabel)}`;
