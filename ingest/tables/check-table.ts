import { createReadStream } from "node:fs";
import { CHECK_TABLES, type CheckReport, CheckTableError, checkTable } from "#core/check-tables/index.ts";
import { figuresText } from "#core/units/figures-text.ts";
import { csvRecords } from "./records.ts";

const MOST_SHOWN = 50;

export const HELP = `Usage: npm run -s check-table -- QUANTITY FILE.csv

Compares what Homewater computes with a table of check values. Each row gives inputs and the expected results; an empty
cell is not compared. Columns named second_... hold a second reference with its own, wider tolerance. A status of
"invalid" means that no value may be produced. Exit code 1 if any row fails, 2 if the table cannot be read.

QUANTITY, and the columns its table must have:
${Object.entries(CHECK_TABLES)
  .map(([name, { about, inputs }]) => `  ${name}: ${about}\n      ${inputs.join(", ")}`)
  .join("\n")}

Example:
  npm run -s check-table -- ${Object.keys(CHECK_TABLES)[0]} values.csv
`;

export function reportLines(quantity: string, report: CheckReport): string[] {
  const shown = report.failures.slice(0, MOST_SHOWN);
  const hidden = report.failures.length - shown.length;
  return [
    ...shown.map(({ line, input, column, expected, got, units }) => {
      const size = units === null || !Number.isFinite(units) ? "" : ` (${figuresText(units, 3)} tolerances)`;
      return `row ${line} failed: ${input}; ${column}: expected ${expected}, got ${got}${size}`;
    }),
    ...(hidden > 0 ? [`... and ${hidden} more`] : []),
    `${quantity}: ${report.rows} rows, ${report.held} held, ${report.failed} failed; ${report.values} values compared`,
    `largest error ${figuresText(report.worst, 3)} of its tolerance${report.worstAt === null ? "" : ` (${report.worstAt})`}`,
  ];
}

/** Runs the command; gives its exit code. */
export async function runCheckTable(
  args: readonly string[],
  out: (line: string) => void,
  problem: (line: string) => void,
): Promise<number> {
  if (args.includes("--help") || args.length === 0) {
    out(HELP.trimEnd());
    return args.length === 0 ? 2 : 0;
  }
  const [quantity, file, ...more] = args;
  const spec = quantity === undefined ? undefined : CHECK_TABLES[quantity];
  if (quantity === undefined || spec === undefined) {
    problem(`There is no table "${quantity}". There are ${Object.keys(CHECK_TABLES).join(", ")}.`);
    return 2;
  }
  if (file === undefined || more.length > 0) {
    problem(`Name one file: npm run -s check-table -- ${quantity} FILE.csv`);
    return 2;
  }
  try {
    const records: string[][] = [];
    for await (const cells of csvRecords(createReadStream(file))) records.push(cells);
    const [header, ...rows] = records;
    if (header === undefined || rows.length === 0) {
      problem(`${file} has no rows: a heading and at least one row are needed.`);
      return 2;
    }
    const report = checkTable(
      spec,
      header.map((name) => name.trim()),
      rows,
    );
    for (const line of reportLines(quantity, report)) out(line);
    return report.failed === 0 ? 0 : 1;
  } catch (error) {
    const isTold = error instanceof CheckTableError || (error instanceof Error && "code" in error);
    if (!isTold) throw error;
    problem(`${file} cannot be checked: ${(error as Error).message}.`);
    return 2;
  }
}
