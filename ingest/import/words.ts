import type { ImportView } from "#contract/imports.ts";
import { type ImportReport, totalsOf } from "#core/importing/report.ts";
import { countText, figuresText } from "#core/units/figures-text.ts";

const day = (at: number | null) => (at === null ? "" : `${new Date(at).toISOString().slice(0, 16)}Z`);
const value = (given: number | null) => (given === null ? "" : figuresText(given));

/** A report in lines: each column with its range, then what was refused and why. `done`: it has happened, else it would. */
export function reportLines(report: ImportReport, done: boolean): string[] {
  const { stored, duplicates, conflicts, rejected, from, to } = totalsOf(report);
  const lines = [
    `${countText(report.rows)} rows from ${day(from)} to ${day(to)}`,
    `${done ? "stored" : "to store"} ${countText(stored)}, already there ${countText(duplicates)}, in conflict ${countText(conflicts)}, refused ${countText(rejected)}`,
  ];
  for (const column of report.columns) {
    const unit = column.unit === null ? "" : ` ${column.unit}`;
    lines.push(
      `  ${column.name} -> ${column.place}: ${countText(column.stored)} ${done ? "stored" : "to store"}, ${value(column.min)} to ${value(column.max)}${unit}, ${day(column.from)} to ${day(column.to)}, ${countText(column.empty)} empty` +
        (column.unbelievable > 0
          ? `, ${countText(column.unbelievable)} NOT BELIEVABLE for this quantity: is the unit right?`
          : ""),
    );
  }
  for (const reject of report.rejects) {
    const examples = reject.examples.map((one) => `line ${one.line} ${one.column} "${one.value}"`).join(", ");
    lines.push(`  refused ${countText(reject.count)}: ${reject.reason} (${examples})`);
  }
  if (report.backwards > 0 && !done)
    lines.push(
      `  ${countText(report.backwards)} rows are earlier than the row above them: repeats among them are found only when they are stored`,
    );
  return lines;
}

export function runLine(run: ImportView): string {
  const about = `${run.id}  ${run.file}  by ${run.begunBy} ${day(run.begun)}  ${countText(run.stored)} stored`;
  if (run.state === "withdrawn") return `${about}  withdrawn by ${run.withdrawnBy}: ${run.reason}`;
  if (run.state === "done") return `${about}  done`;
  return `${about}  stopped at ${Math.floor((100 * run.position.bytes) / run.bytes)} %: run the same command to continue`;
}
