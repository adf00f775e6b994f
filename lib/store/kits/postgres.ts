import { type Column, type SQL, sql } from "drizzle-orm";
import {
  bigint,
  boolean,
  check,
  customType,
  doublePrecision,
  index,
  integer,
  type PgDatabase,
  type PgQueryResultHKT,
  pgTable,
  primaryKey,
  text,
  uniqueIndex,
} from "drizzle-orm/pg-core";

const bytea = customType<{ data: Uint8Array }>({ dataType: () => "bytea" });

/** Columns and constraints as PostgreSQL spells them; `defineTables` is written against this shape. */
export const postgresKit = {
  table: pgTable,
  /** UTC milliseconds or any other whole number beyond 32 bits. */
  instant: (name: string) => bigint(name, { mode: "number" }),
  integer: (name: string) => integer(name),
  /** A growing number the database gives out by itself. */
  ownNumber: (name: string) => bigint(name, { mode: "number" }).primaryKey().generatedAlwaysAsIdentity(),
  real: (name: string) => doublePrecision(name),
  text: (name: string) => text(name),
  yesNo: (name: string) => boolean(name),
  bytes: (name: string) => bytea(name),
  primaryKey,
  index,
  uniqueIndex,
  check,
  /** Neither NaN (which PostgreSQL sorts above Infinity) nor an infinity. */
  finite: (column: Column): SQL => sql`${column} > '-Infinity'::float8 and ${column} < 'Infinity'::float8`,
};

export type Kit = typeof postgresKit;

/** The one type shared queries are written against; they use nothing but `await query`. */
export type Database = PgDatabase<PgQueryResultHKT, Record<string, never>>;
