import { getTableColumns, type SQL, sql } from "drizzle-orm";
import type { PgTable } from "drizzle-orm/pg-core";

// SQLite takes at most 32,766 parameters in a statement and PostgreSQL 65,535.
const PARAMETERS = 30_000;

/** Rows in chunks that fit one statement: rows to insert take a parameter a column of `table`; without one, a row is one value. */
export function* chunks<T>(rows: readonly T[], table?: PgTable): Generator<T[]> {
  const width = table === undefined ? 1 : Object.keys(getTableColumns(table)).length;
  const size = Math.max(1, Math.floor(PARAMETERS / width));
  for (let start = 0; start < rows.length; start += size) yield rows.slice(start, start + size);
}

/** The `set` of an upsert that takes every column from the new row, except those named. */
export function fromNewRow(table: PgTable, except: readonly string[] = []): Record<string, SQL> {
  return Object.fromEntries(
    Object.entries(getTableColumns(table))
      .filter(([key]) => !except.includes(key))
      .map(([key, column]) => [key, sql`excluded.${sql.identifier(column.name)}`]),
  );
}

/** The last row of each key, for databases that refuse to touch a row twice in one statement. */
export function lastByKey<T>(rows: readonly T[], keyOf: (row: T) => string): T[] {
  return [...new Map(rows.map((row) => [keyOf(row), row])).values()];
}
