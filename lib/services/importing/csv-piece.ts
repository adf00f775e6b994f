import Papa from "papaparse";
import type { ImportPlan } from "#core/importing/plan.ts";
import type { ImportPosition } from "#core/importing/progress.ts";
import { invalid } from "../errors.ts";

export interface CsvRow {
  readonly cells: readonly string[];
  /** From 1; of a row with line breaks inside quotes the first. */
  readonly line: number;
}
export interface CsvPiece {
  readonly rows: readonly CsvRow[];
  readonly header: readonly string[];
  /** Where the next piece begins. */
  readonly bytes: number;
  readonly line: number;
}
/** What papaparse's row parser gives; its own types leave it open. */
interface Parsed {
  readonly data: readonly (readonly string[])[];
  readonly meta: { readonly cursor: number };
}

/**
 * The whole rows at the beginning of a piece of a file (RFC 4180); what is left of the last one comes again with the next piece. `final`: the
 * file ends here. Throws AppError "invalid" where the piece holds no whole row.
 */
export function csvPiece(
  text: string,
  final: boolean,
  position: ImportPosition,
  plan: Pick<ImportPlan, "delimiter" | "encoding" | "headingLine">,
): CsvPiece {
  const isFirst = position.bytes === 0;
  const mark = isFirst && text.startsWith("\uFEFF") ? "\uFEFF" : "";
  const body = text.slice(mark.length);
  const newline = body.includes("\n") ? "\n" : "\r";
  const parser = new Papa.Parser({ delimiter: plan.delimiter, newline });
  const { data, meta } = parser.parse(body, 0, !final) as Parsed;
  const read = final ? body.length : meta.cursor;
  if (read === 0 && body.length > 0)
    throw invalid([
      {
        field: "text",
        value: body.slice(0, 60),
        says: `has no complete row after line ${position.line}: a quotation mark is not closed, or the row is too long`,
        remedy: "correct that row, or choose another delimiter",
      },
    ]);
  const rows: CsvRow[] = [];
  let { header, line } = position;
  for (const cells of data) {
    const isBlank = cells.length === 1 && (cells[0] ?? "").trim() === "";
    if (header === null && line >= plan.headingLine && !isBlank) header = [...cells];
    else if (header !== null && !isBlank) rows.push({ cells, line });
    line += 1 + cells.reduce((sum, cell) => sum + (cell.includes("\n") ? cell.split("\n").length - 1 : 0), 0);
  }
  const used = `${mark}${body.slice(0, read)}`;
  const bytes = position.bytes + (plan.encoding === "utf-8" ? Buffer.byteLength(used, "utf8") : used.length);
  return { rows, header: header ?? [], bytes, line };
}
