/** The working as plain text, for print and for a record: what the dialog shows, in lines of at most a hundred characters. */
import { durationText } from "../time/duration-text.ts";
import { wallTime } from "../time/wall-time.ts";
import { figuresText } from "../units/figures-text.ts";
import { beside } from "../units/number-text.ts";
import type { Working } from "./view.ts";
import { inputWords, partWords, resultWords } from "./working-words.ts";

const WIDTH = 100;

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
export function workingText(view: Omit<Working, "text">, zone: string): string {
  const { at } = view;
  const when = at === null ? "" : `, ${new Date(at).toISOString()}`;
  const time = { when: (moment: number) => wallTime(moment, zone, at ?? moment), long: durationText };
  const rows = [
    `${view.label}, ${view.system} ${view.point}${when}`,
    `Result: ${resultWords(view)}${view.status === "extrapolated" ? ", extrapolated" : ""}`,
    ...(view.note === null ? [] : [`Note: ${view.note}`]),
    ...(view.equation === "" ? [] : [`Equation: ${view.equation}`]),
    ...view.expression.map((line) => `  ${line}`),
    "Inputs:",
    ...view.inputs.map((input) => `  ${input.label}: ${inputWords(input, time)}`),
    ...(view.steps.length === 0 ? [] : ["Steps:"]),
    ...view.steps.map((step) => `  ${step.name}: ${beside(figuresText(step.value), step.unit)}`),
    ...(view.uncertainty.length === 0 ? [] : ["Standard uncertainty from:"]),
    ...view.uncertainty.map((part) => `  ${part.name}: ${partWords(part, view.unitLabel)}`),
    ...(view.range === "" ? [] : [`Valid for: ${view.range}`]),
    ...(view.source === "" ? [] : [`Source: ${view.source}`]),
  ];
  return `${rows.flatMap(wrapped).join("\n")}\n`;
}
