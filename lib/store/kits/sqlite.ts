import type BetterSqlite3 from "better-sqlite3";
import { type Column, type SQL, sql } from "drizzle-orm";
import { drizzle } from "drizzle-orm/better-sqlite3";
import {
  blob,
  check,
  index,
  integer,
  primaryKey,
  real,
  sqliteTable,
  text,
  uniqueIndex,
} from "drizzle-orm/sqlite-core";
import type { Database, Kit } from "./postgres.ts";

const kit = {
  table: sqliteTable,
  instant: (name: string) => integer(name),
  integer: (name: string) => integer(name),
  ownNumber: (name: string) => integer(name).primaryKey({ autoIncrement: true }),
  real: (name: string) => real(name),
  text: (name: string) => text(name),
  yesNo: (name: string) => integer(name, { mode: "boolean" }),
  bytes: (name: string) => blob(name, { mode: "buffer" }),
  primaryKey,
  index,
  uniqueIndex,
  check,
  /** SQLite stores NaN as NULL, which NOT NULL refuses; what is left are the infinities. */
  finite: (column: Column): SQL => sql`abs(${column}) <= 1.7976931348623157e308`,
};

// Drizzle has no type that both dialects share. The shared queries are typed as PostgreSQL's; these two casts are the only ones.
/** Columns and constraints as SQLite spells them, in the shape of the PostgreSQL kit. */
export const sqliteKit = kit as unknown as Kit;
/** A connection as the shared queries take it. */
export const sqliteDatabase = (connection: BetterSqlite3.Database): Database =>
  drizzle({ client: connection }) as unknown as Database;
