import type BetterSqlite3 from "better-sqlite3";
import { ROLLUP_WIDTHS } from "#core/quality/rollup.ts";
import type { Transaction } from "../queries/engine.ts";
import { type BulkTable, upsertText } from "../tables/bulk.ts";
import { places } from "../tables/table-columns.ts";

/** Replacing rows in bulk with prepared statements, inside an open transaction. */
export function sqliteBulk(connection: BetterSqlite3.Database): Pick<Transaction, "put" | "clear"> {
  const upserts = new Map<string, BetterSqlite3.Statement>();
  const upsert = (table: BulkTable): BetterSqlite3.Statement => {
    const known = upserts.get(table.name);
    if (known !== undefined) return known;
    const statement = connection.prepare(
      upsertText(table, `values (${places(table.columns.map(([name]) => name))})`),
    );
    upserts.set(table.name, statement);
    return statement;
  };
  const clearFlags = connection.prepare("delete from flag where stream = ? and at >= ? and at < ?");
  const clearDerived = connection.prepare("delete from derived where stream = ? and at >= ? and at < ?");
  const clearRollups = connection.prepare(
    "delete from rollup where width = ? and stream = ? and start >= ? and start < ?",
  );

  return {
    async put(table, rows) {
      const statement = upsert(table);
      for (const row of rows) statement.run(...row);
    },
    async clear(streams, from, to) {
      for (const stream of streams) {
        clearFlags.run(stream, from, to);
        clearDerived.run(stream, from, to);
        for (const width of ROLLUP_WIDTHS) clearRollups.run(width, stream, from, to);
      }
    },
  };
}
