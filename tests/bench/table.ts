/** The table that `npm run bench` prints. */
import type { BenchRow } from "./bench-row.ts";

export const ratioOf = ({ ours, reference }: BenchRow): number | null =>
  ours === null || reference === null || reference === 0 ? null : ours / reference;

/** Whether the target is met; null where there is none or nothing was measured. */
export function hasReached(row: BenchRow): boolean | null {
  if (row.target === null) return null;
  const value = row.target.of === "ours" ? row.ours : ratioOf(row);
  if (value === null) return null;
  const { atLeast = Number.NEGATIVE_INFINITY, atMost = Number.POSITIVE_INFINITY } = row.target;
  return value >= atLeast && value <= atMost;
}

function numberWords(value: number | null, unit = ""): string {
  if (value === null || Number.isNaN(value)) return "–";
  const digits = Math.abs(value) >= 1_000 ? 0 : Math.abs(value) >= 100 ? 1 : Math.abs(value) >= 1 ? 2 : 3;
  const text = value.toLocaleString("en-GB", { maximumFractionDigits: digits });
  return unit === "" ? text : `${text} ${unit}`;
}

function targetWords(row: BenchRow): string {
  if (row.target === null) return "";
  const { of, atLeast, atMost } = row.target;
  const unit = of === "ours" ? row.unit : "";
  const wanted = [
    atLeast === undefined ? "" : `≥ ${numberWords(atLeast, unit)}`,
    atMost === undefined ? "" : `≤ ${numberWords(atMost, unit)}`,
  ].filter((text) => text !== "");
  const reached = hasReached(row);
  const verdict = reached === null ? "not measured" : reached ? "reached" : "NOT REACHED";
  return `${of === "ratio" ? "ratio " : ""}${wanted.join(", ")}: ${verdict}`;
}

/** Rows below their benchmark's name; columns as wide as they need. */
export function tableOf(
  results: readonly { readonly name: string; readonly rows: readonly BenchRow[] }[],
): string {
  const head = ["", "what", "ours", "reference", "ratio", "target", "the reference is"];
  const lines = results.flatMap(({ name, rows }) =>
    rows.map((row, index) => [
      index === 0 ? name : "",
      row.what,
      numberWords(row.ours, row.unit),
      numberWords(row.reference, row.reference === null ? "" : row.unit),
      numberWords(ratioOf(row)),
      targetWords(row),
      `${row.referenceIs}${row.note ? ` (${row.note})` : ""}`,
    ]),
  );
  const all = [head, ...lines];
  const widths = head.map((_, column) => Math.max(...all.map((line) => (line[column] ?? "").length)));
  const isNumber = (column: number) => column >= 2 && column <= 4;
  return all
    .map((line) =>
      line
        .map((cell, column) =>
          isNumber(column) ? cell.padStart(widths[column] as number) : cell.padEnd(widths[column] as number),
        )
        .join("  ")
        .trimEnd(),
    )
    .join("\n");
}
