import type { ComputedStatus } from "./result.ts";

/** What stands in a column of statuses: the place of each word in it. As `ComputedStatus`. */
export const COLUMN_STATUSES = ["ok", "extrapolated", "invalid"] as const satisfies readonly ComputedStatus[];
export const OK = 0;
export const EXTRAPOLATED = 1;
export const INVALID = 2;

/** A column of results: NaN where there is none, and for each row its place in `COLUMN_STATUSES`. */
export interface ColumnResult {
  readonly value: Float64Array;
  readonly status: Uint8Array;
}

/** The one length of all columns of a call; RangeError with both lengths where they differ. */
export function lengthOf(columns: readonly Float64Array[]): number {
  const n = columns[0]?.length ?? 0;
  const odd = columns.find((column) => column.length !== n);
  if (odd) throw new RangeError(`columns of ${n} and ${odd.length} rows: give all the same length`);
  return n;
}

/** Columns to fill with n results: the given ones, which must have that length (RangeError), or new ones. */
export function resultColumns(n: number, into: ColumnResult | undefined): ColumnResult {
  if (into === undefined) return { value: new Float64Array(n), status: new Uint8Array(n) };
  if (into.value.length !== n || into.status.length !== n)
    throw new RangeError(
      `columns of ${n} rows into ${into.value.length} values and ${into.status.length} statuses: give all the same length`,
    );
  return into;
}
