import Papa from "papaparse";
import { roundToFigures } from "#core/units/rounding.ts";

export type Cell = string | number | null | undefined;

/** CSV (RFC 4180) with a heading; null and undefined are empty cells. Text that a spreadsheet would take for a formula is led by an apostrophe. */
export function csvTable(fields: readonly string[], rows: readonly (readonly Cell[])[]): string {
  const data = rows.map((cells) =>
    cells.map((cell) => (typeof cell === "number" ? roundToFigures(cell, 12) : cell)),
  );
  return `${Papa.unparse({ fields: [...fields], data }, { escapeFormulae: true })}\r\n`;
}
