import Papa from "papaparse";
import { cellReader } from "#core/importing/file-value.ts";
import type { OwnValue } from "#core/native-water/index.ts";
import { MONTHS } from "#core/time/names.ts";
import { quantity as spec } from "#core/units/index.ts";
import { labelInSentence } from "#core/units/label-text.ts";
import { beside, rangeText } from "#core/units/number-text.ts";

export interface Refused {
  /** Line of the file, the heading being 1. */
  readonly line: number;
  readonly value: string;
  readonly says: string;
  readonly remedy: string;
}
export type SeriesFile =
  | {
      readonly ok: true;
      readonly values: readonly OwnValue[];
      readonly refused: readonly Refused[];
      /** Columns of the file that say nothing of a month. */
      readonly ignored: readonly string[];
    }
  | { readonly ok: false; readonly says: string; readonly remedy: string };

const COLUMNS = ["date", "month", "value", "unit", "spread"];

function monthOf(text: string): number | null {
  if (/^\d{1,2}$/.test(text)) return Number(text) >= 1 && Number(text) <= 12 ? Number(text) : null;
  const at = MONTHS.findIndex((name) => name.toLowerCase() === text.slice(0, 3).toLowerCase());
  return at < 0 || text.length < 3 ? null : at + 1;
}

/** Year and month of an ISO date, with or without day and time: the month is the one the file's own clock says. */
function dateOf(text: string): { readonly year: number; readonly month: number } | null {
  const [, year, month, day] = /^(\d{4})-(\d{2})(?:-(\d{2})(?:[T ].*)?)?$/.exec(text) ?? [];
  if (year === undefined || month === undefined || Number(month) < 1 || Number(month) > 12) return null;
  if (day === undefined) return { year: Number(year), month: Number(month) };
  const asked = new Date(Date.UTC(Number(year), Number(month) - 1, Number(day)));
  return asked.getUTCMonth() + 1 === Number(month) && Number(day) > 0
    ? { year: Number(year), month: Number(month) }
    : null;
}

type RowRead =
  | { readonly ok: true; readonly value: OwnValue }
  | { readonly ok: false; readonly value: string; readonly says: string; readonly remedy: string };

const refuse = (value: string, says: string, remedy: string): RowRead => ({ ok: false, value, says, remedy });

function monthOfRow(cell: (name: string) => string, isDated: boolean) {
  if (isDated) return dateOf(cell("date"));
  const month = monthOf(cell("month"));
  return month === null ? null : { year: null, month };
}

function readRow(
  cell: (name: string) => string,
  isDated: boolean,
  reader: ReturnType<typeof cellReader>,
  quantity: string,
): RowRead {
  const at = monthOfRow(cell, isDated);
  if (at === null)
    return isDated
      ? refuse(cell("date"), "is not a date", "write it as 2024-03-31")
      : refuse(cell("month"), "is not a month", "use 1 to 12 or an English name");
  if (typeof reader !== "function") return refuse(cell("unit"), reader.says, reader.remedy);
  const read = reader(cell("value"));
  if (!read.ok)
    return refuse(
      cell("value"),
      read.says,
      // Here no text can be named that means no value, and nothing is recorded as a bench test.
      read.because === "decimal" ? read.remedy : "correct the cell, or leave the row out",
    );
  const about = spec(quantity);
  if (about?.kind === "number") {
    const [low, high] = about.plausible;
    if (read.value < low || read.value > high)
      return refuse(
        cell("value"),
        `is outside the possible ${labelInSentence(about.label)} of water (${beside(rangeText({ low, high }, about.decimals), about.unitLabel)})`,
        "check the value and its unit",
      );
  }
  if (isDated || cell("spread") === "")
    return { ok: true, value: { ...at, value: read.value, spread: null } };
  const [above, zero] = [reader(cell("spread")), reader("0")];
  // A spread is a difference: what a unit adds to a value does not belong to it.
  if (!above.ok || !zero.ok || above.value - zero.value < 0)
    return refuse(
      cell("spread"),
      "is not a usable spread",
      "give half the width of the range around the value, 0 or more",
    );
  return { ok: true, value: { ...at, value: read.value, spread: above.value - zero.value } };
}

/**
 * Reads a CSV of a logger or shore station: a heading with `date` (ISO) or `month` (1 to 12 or an English name), `value`, and where there are
 * any `unit` and `spread` (by month only). Every row is read or refused with its line and reason; values come out in the quantity's unit.
 */
export function readSeriesFile(
  text: string,
  quantity: string,
  unit: string | null,
  decimal: "." | ",",
): SeriesFile {
  const parsed = Papa.parse<Record<string, string>>(text.replace(/^\uFEFF/, ""), {
    header: true,
    transformHeader: (name) => name.trim().toLowerCase(),
  });
  const columns = parsed.meta.fields ?? [];
  const has = (name: string) => columns.includes(name);
  if (!has("value") || !(has("date") || has("month")))
    return {
      ok: false,
      says: `the heading names ${columns.length === 0 ? "no column" : columns.join(", ")}`,
      remedy:
        "call the columns date (2024-03-31) or month (1 to 12), and value; unit and spread are optional",
    };
  const readers = new Map<string | null, ReturnType<typeof cellReader>>();
  const readerOf = (named: string | null) => {
    const known = readers.get(named) ?? cellReader({ system: "", point: "", quantity, unit: named }, decimal);
    readers.set(named, known);
    return known;
  };
  const values: OwnValue[] = [];
  const refused: Refused[] = [];
  for (const [i, row] of parsed.data.entries()) {
    const cell = (name: string) => (row[name] ?? "").trim();
    // Empty lines are kept by the parser, so that a line is the one an editor shows.
    if (columns.every((name) => cell(name) === "")) continue;
    const read = readRow(cell, has("date"), readerOf(cell("unit") === "" ? unit : cell("unit")), quantity);
    if (read.ok) values.push(read.value);
    else refused.push({ line: i + 2, value: read.value.slice(0, 60), says: read.says, remedy: read.remedy });
  }
  return {
    ok: true,
    values,
    refused,
    ignored: columns.filter((column) => column !== "" && !COLUMNS.includes(column)),
  };
}
