import { roundToFigures } from "#core/units/rounding.ts";

type Cell = string | number | null | undefined;

/** One record of RFC 4180; null and undefined are empty cells. Text that a spreadsheet would take for a formula is led by an apostrophe. */
export function csvRow(cells: readonly Cell[]): string {
  return cells
    .map((cell) => {
      if (cell === null || cell === undefined) return "";
      if (typeof cell === "number") return String(roundToFigures(cell, 12));
      const text = /^[=+\-@\t\r]/.test(cell) ? `'${cell}` : cell;
      return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
    })
    .join(",");
}
