import { getTableColumns, getTableName } from "drizzle-orm";
import type { PgTable } from "drizzle-orm/pg-core";

/** Names as they stand in the database, in quotes with a comma between. */
export const nameList = (names: readonly string[]): string => names.map((name) => `"${name}"`).join(", ");

/** "?, ?, ?": as many places as there are names. */
export const places = (names: readonly string[]): string => names.map(() => "?").join(", ");

/**
 * `insert into <table> (<names>)` for a statement written by hand, whose values stand in the order of `names`. Throws a
 * TypeError where the names are not all the table's columns, each once: a column that is new may not be left out unseen.
 */
export function insertInto(table: PgTable, names: readonly string[]): string {
  const columns = Object.values(getTableColumns(table)).map((column) => column.name);
  const isWhole = [...names].sort().join() === [...columns].sort().join();
  if (!isWhole)
    throw new TypeError(
      `An insert into ${getTableName(table)} names ${names.join(", ")}; the table has ${columns.join(", ")}: name every column once.`,
    );
  return `insert into ${nameList([getTableName(table)])} (${nameList(names)})`;
}

/** "$1::integer[], $2::bigint[]": PostgreSQL's parameters for one array a column. */
export const arrayParameters = (
  columns: readonly (readonly [name: string, type: string, ...unknown[]])[],
): string => columns.map(([, type], index) => `$${index + 1}::${type}[]`).join(", ");
