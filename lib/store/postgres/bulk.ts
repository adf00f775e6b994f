import type pg from "pg";
import type { Transaction } from "../queries/engine.ts";
import { lastByKey } from "../queries/rows.ts";
import { type BulkTable, type BulkValue, upsertText } from "../tables/bulk.ts";
import { arrayParameters } from "../tables/table-columns.ts";

const ROWS_A_STATEMENT = 5_000;

/** Replacing rows in bulk: one array a column, so that a statement is the same whatever the number of rows. */
export function postgresBulk(client: pg.PoolClient): Pick<Transaction, "put" | "clear"> {
  return {
    async put(table, rows) {
      const key = table.key.map((name) => table.columns.findIndex(([column]) => column === name));
      // A row may be replaced only once in a statement; the last one counts, as it would one by one.
      const unique = lastByKey(rows, (row) => key.map((index) => row[index]).join(":"));
      for (let start = 0; start < unique.length; start += ROWS_A_STATEMENT) {
        await client.query({
          name: `put-${table.name}`,
          text: upsertText(table, `select * from unnest(${arrayParameters(table.columns)})`),
          values: byColumn(table, unique.slice(start, start + ROWS_A_STATEMENT)),
        });
      }
    },
    async clear(streams, from, to) {
      const values = [streams, from, to];
      await client.query(
        "delete from flag where stream = any($1::integer[]) and at >= $2 and at < $3",
        values,
      );
      await client.query(
        "delete from derived where stream = any($1::integer[]) and at >= $2 and at < $3",
        values,
      );
      await client.query(
        "delete from rollup where stream = any($1::integer[]) and start >= $2 and start < $3",
        values,
      );
    },
  };
}

const byColumn = (table: BulkTable, rows: readonly (readonly BulkValue[])[]): BulkValue[][] =>
  table.columns.map((_column, index) => rows.map((row) => row[index] ?? null));
