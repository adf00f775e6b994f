/** The working as plain text, for print and for a record: what the dialog shows, in lines of at most a hundred characters. */
import { duration, wallTime } from "../time/wall-time.ts";
import { numberText, withUnit } from "../wire/number-text.ts";
import type { WorkingInput, WorkingView } from "../wire/working-views.ts";
import { figures } from "./explanation.ts";

const WIDTH = 100;

const beside = (text: string, unit: string) => (unit === "" ? text : `${text} ${unit}`);

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

/** "8.02, probe at display, 06:25, 4 min before" */
export function inputWords(input: WorkingInput, zone: string, seenFrom: number): string {
  if (input.value === null) return input.note ?? "none young enough";
  const sign = input.mark === null ? "" : input.mark === "below" ? "< " : "> ";
  const from =
    input.origin === "system" ? null : `${input.origin}${input.point === null ? "" : ` at ${input.point}`}`;
  const age = input.age === null || input.age === 0 ? null : `${duration(input.age)} before`;
  return [
    `${sign}${withUnit(input.value, input.decimals + 1, input.unitLabel)}`,
    from,
    input.at === null ? null : wallTime(input.at, zone, seenFrom),
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

function wrapped(line: string): string[] {
  const lines: string[] = [];
  let rest = line;
  const indent = `${/^ */.exec(line)?.[0] ?? ""}  `;
  while (rest.length > WIDTH) {
    const cut = rest.lastIndexOf(" ", WIDTH);
    if (cut <= indent.length) break;
    lines.push(rest.slice(0, cut));
    rest = indent + rest.slice(cut + 1);
  }
  return [...lines, rest];
}

/** `zone` is the site's; times are given in it. */
export function workingText(view: Omit<WorkingView, "text">, zone: string): string {
  const { at } = view;
  const when = at === null ? "" : `, ${new Date(at).toISOString()}`;
  const rows = [
    `${view.label}, ${view.system} ${view.point}${when}`,
    `Result: ${resultWords(view)}${view.status === "extrapolated" ? ", extrapolated" : ""}`,
    ...(view.note === null ? [] : [`Note: ${view.note}`]),
    ...(view.equation === "" ? [] : [`Equation: ${view.equation}`]),
    ...view.expression.map((line) => `  ${line}`),
    "Inputs:",
    ...view.inputs.map((input) => `  ${input.label}: ${inputWords(input, zone, at ?? 0)}`),
    ...(view.steps.length === 0 ? [] : ["Steps:"]),
    ...view.steps.map((step) => `  ${step.name}: ${beside(figures(step.value), step.unit)}`),
    ...(view.uncertainty.length === 0 ? [] : ["Standard uncertainty from:"]),
    ...view.uncertainty.map((part) => `  ${part.name}: ${partWords(part, view.unitLabel)}`),
    ...(view.range === "" ? [] : [`Holds for: ${view.range}`]),
    ...(view.source === "" ? [] : [`Source: ${view.source}`]),
  ];
  return `${rows.flatMap(wrapped).join("\n")}\n`;
}
