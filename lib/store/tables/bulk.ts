import { getTableColumns, getTableName } from "drizzle-orm";
import { getTableConfig, type PgTable } from "drizzle-orm/pg-core";
import type { Current, DerivedRow, FlagRow } from "../port.ts";
import { postgresTables } from "./schema-postgres.ts";
import { nameList } from "./table-columns.ts";

export type BulkValue = number | string | null;

/** A table whose rows are replaced by key in large numbers; types are PostgreSQL's. */
export interface BulkTable<Row = never> {
  readonly name: string;
  readonly columns: readonly (readonly [name: string, type: string])[];
  readonly key: readonly string[];
  /** The values of a row in the order of the columns. */
  readonly valuesOf: (row: Row) => BulkValue[];
}
type Whole<T extends PgTable> = Readonly<Required<T["$inferInsert"]>>;

/** Columns and key as the table defines them; both dialects name them alike. */
function bulkTable<T extends PgTable>(table: T): BulkTable<Whole<T>> {
  const columns = Object.entries(getTableColumns(table));
  const [composite] = getTableConfig(table).primaryKeys;
  const keyed = composite?.columns ?? columns.map(([, column]) => column).filter(({ primary }) => primary);
  const fields = columns.map(([field]) => field as keyof Whole<T>);
  return {
    name: getTableName(table),
    columns: columns.map(([, column]) => [column.name, column.getSQLType()]),
    key: keyed.map(({ name }) => name),
    // The tables of this file hold numbers and text only.
    valuesOf: (row) => fields.map((field) => row[field] as BulkValue),
  };
}

export const FLAG_ROWS = bulkTable(postgresTables.flag);
export const flagRow = (row: FlagRow): BulkValue[] =>
  FLAG_ROWS.valuesOf({ ...row, reasons: row.reasons.join(",") });

export const DERIVED_ROWS = bulkTable(postgresTables.derived);
/** `formula`: the number of the text (see queries/formulas.ts). */
export const derivedRow = (row: DerivedRow, formula: number): BulkValue[] =>
  DERIVED_ROWS.valuesOf({ ...row, formula });

export const ROLLUP_ROWS = bulkTable(postgresTables.rollup);

export const CURRENT_ROWS = bulkTable(postgresTables.current);
export const currentRow = (row: Current): BulkValue[] =>
  CURRENT_ROWS.valuesOf({
    ...row,
    reasons: row.reasons.join(","),
    band: row.band === null ? null : JSON.stringify(row.band),
  });

/** `insert ... <source> on conflict (key) do update` in the words both dialects share; `source` is `values ...` or a select. */
export function upsertText(table: BulkTable, source: string): string {
  const names = table.columns.map(([name]) => name);
  const rest = names.filter((name) => !table.key.includes(name));
  const set = rest.map((name) => `"${name}" = excluded."${name}"`).join(", ");
  return `insert into ${nameList([table.name])} (${nameList(names)}) ${source} on conflict (${nameList(table.key)}) do update set ${set}`;
}
