import type { Current, DerivedRow, FlagRow, RollupRow } from "./port.ts";

export type BulkValue = number | string | null;

/** A table whose rows are replaced by key in large numbers; types are PostgreSQL's. */
export interface BulkTable {
  readonly name: string;
  readonly columns: readonly (readonly [name: string, type: "integer" | "bigint" | "float8" | "text"])[];
  readonly key: readonly string[];
}

export const FLAG_ROWS: BulkTable = {
  name: "flag",
  key: ["stream", "at"],
  columns: [
    ["stream", "integer"],
    ["at", "bigint"],
    ["flag", "integer"],
    ["reasons", "text"],
  ],
};
export const flagRow = (row: FlagRow): BulkValue[] => [row.stream, row.at, row.flag, row.reasons.join(",")];

export const DERIVED_ROWS: BulkTable = {
  name: "derived",
  key: ["stream", "at"],
  columns: [
    ["stream", "integer"],
    ["at", "bigint"],
    ["value", "float8"],
    ["low", "float8"],
    ["high", "float8"],
    ["formula", "integer"],
  ],
};
/** `formula`: the number of the text (see queries/formulas.ts). */
export const derivedRow = (row: DerivedRow, formula: number): BulkValue[] => [
  row.stream,
  row.at,
  row.value,
  row.low,
  row.high,
  formula,
];

export const ROLLUP_ROWS: BulkTable = {
  name: "rollup",
  key: ["width", "stream", "start"],
  columns: [
    ["width", "integer"],
    ["stream", "integer"],
    ["start", "bigint"],
    ["n", "integer"],
    ["good", "integer"],
    ["min", "float8"],
    ["max", "float8"],
    ["sum", "float8"],
    ["first", "float8"],
    ["last", "float8"],
  ],
};
export const rollupRow = (row: RollupRow): BulkValue[] => [
  row.width,
  row.stream,
  row.start,
  row.n,
  row.good,
  row.min,
  row.max,
  row.sum,
  row.first,
  row.last,
];

export const CURRENT_ROWS: BulkTable = {
  name: "current",
  key: ["stream"],
  columns: [
    ["stream", "integer"],
    ["at", "bigint"],
    ["value", "float8"],
    ["flag", "integer"],
    ["reasons", "text"],
    ["low", "float8"],
    ["high", "float8"],
    ["deviation", "float8"],
    ["band", "text"],
    ["rate", "float8"],
    ["received", "bigint"],
    ["silent_at", "bigint"],
  ],
};
export const currentRow = (row: Current): BulkValue[] => [
  row.stream,
  row.at,
  row.value,
  row.flag,
  row.reasons.join(","),
  row.low,
  row.high,
  row.deviation,
  row.band === null ? null : JSON.stringify(row.band),
  row.rate,
  row.received,
  row.silentAt,
];

/** `insert ... <source> on conflict (key) do update` in the words both dialects share; `source` is `values ...` or a select. */
export function upsertText(table: BulkTable, source: string): string {
  const quoted = (name: string) => `"${name}"`;
  const columns = table.columns.map(([name]) => name);
  const rest = columns.filter((name) => !table.key.includes(name));
  return `insert into ${quoted(table.name)} (${columns.map(quoted).join(", ")}) ${source} on conflict (${table.key
    .map(quoted)
    .join(
      ", ",
    )}) do update set ${rest.map((name) => `${quoted(name)} = excluded.${quoted(name)}`).join(", ")}`;
}
