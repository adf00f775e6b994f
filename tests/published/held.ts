import { readFileSync } from "node:fs";
import { expect } from "vitest";
import { getCurrentTest } from "vitest/suite";

declare module "vitest" {
  interface TaskMeta {
    /** What a test of published values held, for the count at the end of `npm test`. */
    published?: { table: string; values: number; worst: number; worstAt: string };
  }
}

/** One tolerance of a table: which column, how wide, and for which rows when not for all of them. */
export interface Check {
  readonly column: string;
  readonly absolute?: number;
  readonly relative?: number;
  readonly source?: string;
  readonly why: string;
  readonly [condition: string]: unknown;
}

interface TableFile {
  readonly quantity: string;
  readonly sources: Readonly<Record<string, string>>;
  readonly checks: readonly Check[];
  readonly columns: readonly string[];
  readonly rows: readonly (readonly (string | number | null)[])[];
}

export interface Row {
  readonly index: number;
  readonly source: string;
  number(column: string): number;
  numberOrNull(column: string): number | null;
  text(column: string): string;
  /** As it stands in the file. */
  cell(column: string): string | number | null;
}

export interface CheckTable {
  readonly name: string;
  readonly rows: readonly Row[];
  readonly checks: readonly Check[];
  /** What the rows' sources are, by the key each row carries. */
  readonly sources: Readonly<Record<string, string>>;
}

/** A table of fixtures/check-values: figures of publications and reference programs, each row with its source. */
export function readTable(name: string): CheckTable {
  const path = new URL(`../../fixtures/check-values/${name}.json`, import.meta.url);
  const file = JSON.parse(readFileSync(path, "utf8")) as TableFile;
  const at = (column: string): number => {
    const index = file.columns.indexOf(column);
    if (index < 0) throw new Error(`${name}: no column "${column}", there are ${file.columns.join(", ")}`);
    return index;
  };
  const rows = file.rows.map((cells, index): Row => {
    const numberOrNull = (column: string): number | null => {
      const cell = cells[at(column)] ?? null;
      if (typeof cell === "string") throw new Error(`${name} row ${index}: "${column}" is text`);
      return cell;
    };
    const text = (column: string): string => {
      const cell = cells[at(column)];
      if (typeof cell !== "string") throw new Error(`${name} row ${index}: "${column}" is no text`);
      return cell;
    };
    const source = text("source");
    if (file.sources[source] === undefined)
      throw new Error(`${name} row ${index}: source "${source}" is not named`);
    return {
      index,
      source,
      numberOrNull,
      text,
      cell: (column) => cells[at(column)] ?? null,
      number(column) {
        const value = numberOrNull(column);
        if (value === null) throw new Error(`${name} row ${index}: "${column}" is empty`);
        return value;
      },
    };
  });
  return { name, rows, checks: file.checks, sources: file.sources };
}

/** Compares computed values with a table and keeps count of how many were held and how close. */
export interface Held {
  /** Compare with the row's value of `column`; an empty cell is not compared. `where` picks among tolerances. */
  value(row: Row, column: string, actual: number | null, where?: Readonly<Record<string, unknown>>): void;
  /** Compare with a number that is not a cell of its own, under the tolerance named by `column`. */
  against(row: Row, column: string, expected: number, actual: number | null): void;
  /** Fail on any difference, on fewer values than `atLeast`, and say in one line what was held. */
  report(atLeast: number): void;
}

/** The narrowest description that fits the row: one that names its source or a condition goes before a general one. */
function toleranceFor(
  table: CheckTable,
  row: Row,
  column: string,
  where: Readonly<Record<string, unknown>>,
): Check {
  const fits = table.checks.filter((check) => {
    if (check.column !== column) return false;
    const conditions = Object.entries(check).filter(
      ([key]) => !["column", "absolute", "relative", "why", "source"].includes(key),
    );
    if (check.source !== undefined && check.source !== row.source) return false;
    return conditions.every(([key, value]) => where[key] === value);
  });
  const chosen = fits.sort((a, b) => Object.keys(b).length - Object.keys(a).length)[0];
  if (chosen === undefined) throw new Error(`${table.name} row ${row.index}: no tolerance for "${column}"`);
  return chosen;
}

export function heldAgainst(table: CheckTable): Held {
  const failures: string[] = [];
  let count = 0;
  let worst = 0;
  let worstAt = "";
  const compare = (row: Row, column: string, expected: number, actual: number | null, check: Check) => {
    const width = check.absolute ?? (check.relative ?? 0) * Math.abs(expected);
    const error = actual === null ? Number.POSITIVE_INFINITY : Math.abs(actual - expected);
    const units = error === 0 ? 0 : error / width;
    count += 1;
    if (units > worst) {
      worst = units;
      worstAt = `${column}, row ${row.index}`;
    }
    if (!(units <= 1)) {
      failures.push(
        `row ${row.index} ${column}: ${actual}, expected ${expected} ± ${width} (${table.sources[row.source]})`,
      );
    }
  };
  return {
    value(row, column, actual, where = {}) {
      const expected = row.numberOrNull(column);
      if (expected !== null) compare(row, column, expected, actual, toleranceFor(table, row, column, where));
    },
    against(row, column, expected, actual) {
      compare(row, column, expected, actual, toleranceFor(table, row, column, {}));
    },
    report(atLeast) {
      expect(failures, `${table.name}: values outside their tolerance`).toEqual([]);
      expect(count, `${table.name}: values compared`).toBeGreaterThanOrEqual(atLeast);
      const task = getCurrentTest();
      if (task) task.meta.published = { table: table.name, values: count, worst, worstAt };
      console.info(
        `${table.name}: ${count} values held, largest error ${worst.toPrecision(2)} of the tolerance (${worstAt || "all exact"})`,
      );
    },
  };
}
