/** Compares a table of check values with what is computed here. */
import { UnitError } from "../units/index.ts";

/** One row of a table, by column. */
export interface CheckRow {
  /** Counted from 1, the heading left out. */
  readonly line: number;
  /** Throws CheckTableError where the cell is empty or no number. */
  number(column: string): number;
  numberOrNull(column: string): number | null;
  /** Empty where the table has no such column. */
  text(column: string): string;
}

interface Rule {
  /** The table's column. */
  readonly column: string;
  /** What of the computed values it is compared with; the column's own name where it is left out. */
  readonly of?: string;
  readonly absolute?: number;
  readonly relative?: number;
  /** Rows that the rule is for; the first rule that fits counts, and a value that none fits is not compared. */
  readonly when?: (row: CheckRow) => boolean;
}
export interface Computed {
  /** By the name that rules use; null where there is no number. */
  readonly values: Readonly<Record<string, number | null>>;
  readonly status?: string;
}
export interface TableSpec {
  readonly about: string;
  /** Columns that must be there. */
  readonly inputs: readonly string[];
  readonly compute: (row: CheckRow) => Computed;
  readonly rules: readonly Rule[];
  /** Statuses in the table that say no value may be produced. */
  readonly none?: readonly string[];
  /** Statuses of the table that ours must equal; others are remarks on the row's source. */
  readonly statuses?: readonly string[];
}

export class CheckTableError extends Error {
  override readonly name = "CheckTableError";
}

export interface CheckFailure {
  readonly line: number;
  /** Inputs of the row, as the table has them. */
  readonly input: string;
  readonly column: string;
  readonly expected: string;
  readonly got: string;
  /** Error in units of the tolerance; null where the two cannot be compared. */
  readonly units: number | null;
}
export interface CheckReport {
  readonly rows: number;
  /** Rows in which nothing failed. */
  readonly held: number;
  readonly failed: number;
  /** Single values compared. */
  readonly values: number;
  readonly failures: readonly CheckFailure[];
  /** Largest error in units of its tolerance, and where. */
  readonly worst: number;
  readonly worstAt: string | null;
}

function rowOf(header: readonly string[], cells: readonly string[], line: number): CheckRow {
  const cell = (column: string) => (cells[header.indexOf(column)] ?? "").trim();
  const numberOrNull = (column: string): number | null => {
    const plain = cell(column);
    if (plain === "") return null;
    const value = Number(plain);
    if (Number.isFinite(value)) return value;
    throw new CheckTableError(`"${plain}" in ${column} is not a number`);
  };
  return {
    line,
    numberOrNull,
    text: cell,
    number(column) {
      const value = numberOrNull(column);
      if (value === null) throw new CheckTableError(`${column} is empty`);
      return value;
    },
  };
}

/** The first rule for each pair of column and computed value that fits the row. */
function rulesFor(spec: TableSpec, row: CheckRow): Rule[] {
  const chosen = new Map<string, Rule>();
  for (const rule of spec.rules) {
    const key = `${rule.column} ${rule.of ?? ""}`;
    if (!chosen.has(key) && (rule.when === undefined || rule.when(row))) chosen.set(key, rule);
  }
  return [...chosen.values()];
}

/**
 * Compares every row of a table with what `spec` computes. `header` and `rows` as in the file, cells as text; an empty cell is not compared,
 * but where the row's status says that no value may be produced, any value fails. Throws CheckTableError where a column is missing; a row
 * that cannot be read fails and the rest goes on.
 */
export function checkTable(
  spec: TableSpec,
  header: readonly string[],
  rows: readonly (readonly string[])[],
): CheckReport {
  const missing = spec.inputs.filter((column) => !header.includes(column));
  if (missing.length > 0)
    throw new CheckTableError(`the table lacks ${missing.join(", ")}; it has ${header.join(", ")}`);
  const columns = spec.rules.map((rule) => rule.column);
  if (!columns.some((column) => header.includes(column)))
    throw new CheckTableError(
      `the table has none of the columns to check: ${[...new Set(columns)].join(", ")}`,
    );
  const failures: CheckFailure[] = [];
  let [values, worst, failedRows] = [0, 0, 0];
  let worstAt: string | null = null;
  rows.forEach((cells, index) => {
    const row = rowOf(header, cells, index + 1);
    const input = spec.inputs.map((column) => `${column}=${row.text(column)}`).join(" ");
    const before = failures.length;
    const fail = (column: string, expected: string, got: string, units: number | null = null) =>
      failures.push({ line: row.line, input, column, expected, got, units });
    try {
      const found = spec.compute(row);
      const status = row.text("status");
      const mustBeNone = spec.none?.includes(status) ?? false;
      if (spec.statuses?.includes(status) && found.status !== status)
        fail("status", status, found.status ?? "none");
      for (const rule of rulesFor(spec, row)) {
        const got = found.values[rule.of ?? rule.column] ?? null;
        const expected = row.numberOrNull(rule.column);
        if (mustBeNone) {
          values += 1;
          if (got !== null) fail(rule.column, "no value", String(got));
          continue;
        }
        if (expected === null) continue;
        values += 1;
        const width = rule.absolute ?? (rule.relative ?? 0) * Math.abs(expected);
        const error = got === null ? Number.POSITIVE_INFINITY : Math.abs(got - expected);
        const units = error === 0 ? 0 : error / width;
        if (units > worst) {
          worst = units;
          worstAt = `${rule.of ?? rule.column}, row ${row.line}`;
        }
        if (!(units <= 1))
          fail(rule.column, `${expected} ± ${width}`, got === null ? "no value" : String(got), units);
      }
    } catch (error) {
      if (!(error instanceof CheckTableError || error instanceof UnitError)) throw error;
      fail("-", "a readable row", error.message);
    }
    if (failures.length > before) failedRows += 1;
  });
  return {
    rows: rows.length,
    held: rows.length - failedRows,
    failed: failedRows,
    values,
    failures,
    worst,
    worstAt,
  };
}
