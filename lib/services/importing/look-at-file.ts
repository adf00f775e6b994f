import Papa from "papaparse";
import { type LookView, lookRequest } from "#contract/imports.ts";
import { fileTime } from "#core/importing/file-time.ts";
import { TIME_FORMATS } from "#core/importing/plan.ts";
import type { Actor } from "../deps.ts";
import { parse } from "../parse.ts";
import { demandSomewhere } from "../permission.ts";

const LINES = 20;
const ROWS = 200;

/** The delimiter that divides the lines most evenly; null where none does. */
function delimiterOf(text: string): string | null {
  const { errors, meta } = Papa.parse(text, {
    delimitersToGuess: [",", ";", "\t", "|"],
    preview: LINES,
    skipEmptyLines: true,
  });
  return errors.some(({ type }) => type === "Delimiter") ? null : meta.delimiter;
}

/** What the beginning of a file looks like: an offer for a person to choose from. Throws AppError "forbidden" or "invalid". */
export function lookAtFile(actor: Actor, body: unknown): LookView {
  demandSomewhere(actor, "import-readings");
  const { text, headingLine = 1, ...given } = parse(lookRequest, body);
  const whole = text
    .replace(/^\uFEFF/, "")
    .split(/\r\n|\n|\r/)
    .slice(headingLine - 1)
    .join("\n");
  const delimiter = given.delimiter ?? delimiterOf(whole);
  const { data } = Papa.parse<string[]>(whole, {
    delimiter: delimiter ?? ",",
    preview: ROWS + 1,
    skipEmptyLines: true,
  });
  const [header = [], ...rows] = data.map((row) => row.map((cell) => cell.trim().slice(0, 200)));
  const times = header.flatMap((column, index) => {
    const cells = rows.map((row) => row[index] ?? "").filter((cell) => cell !== "");
    if (cells.length === 0) return [];
    const fitting = TIME_FORMATS.filter((format) => cells.every((cell) => isTime(cell, format)));
    const isNamed = /time|date|timestamp|zeit|datum|heure|fecha/i.test(column);
    if (fitting.length === 0 || (!isNamed && fitting.every((format) => format.startsWith("epoch"))))
      return [];
    // Day and month in either order are both possible: a person says which.
    return [{ column, format: fitting.length === 1 ? (fitting[0] ?? null) : null }];
  });
  return { delimiter, header, rows, times };
}

function isTime(cell: string, format: (typeof TIME_FORMATS)[number]): boolean {
  if (format === "epoch_s") return /^\d{9,10}$/.test(cell);
  if (format === "epoch_ms") return /^\d{12,13}$/.test(cell);
  return fileTime({ columns: ["time"], format, zone: "Z", twice: "first" }).read([cell], null).ok;
}
