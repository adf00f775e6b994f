import type { Database } from "../kits/postgres.ts";
import type { Store, StoreError } from "../port.ts";
import type { BulkTable, BulkValue } from "../tables/bulk.ts";
import type { Tables } from "../tables/tables.ts";

/** An open writing transaction: the shared queries, and the fast paths each dialect writes by hand. */
export interface Transaction {
  readonly db: Database;
  /** Insert or replace whole rows by the table's key. */
  put(table: BulkTable, rows: readonly (readonly BulkValue[])[]): Promise<void>;
  /** Remove flags, derived rows and rollups of these streams with from <= at (or start) < to. */
  clear(streams: readonly number[], from: number, to: number): Promise<void>;
}

/** What a dialect provides; everything else of the port is written once over it. */
export interface Engine
  extends Pick<
    Store,
    | "dialect"
    | "append"
    | "readingsOf"
    | "readingsBetween"
    | "firstReadingAt"
    | "tallyStretches"
    | "changeMark"
    | "close"
  > {
  readonly tables: Tables;
  /** Path or URL without credentials. */
  readonly where: string;
  /** For single reads. */
  readonly db: Database;
  /** For several reads that must see the same moment. */
  snapshot<T>(body: (db: Database) => Promise<T>): Promise<T>;
  /** One durable commit, alone among writers; the body must wait for nothing but the database. */
  atomically<T>(body: (transaction: Transaction) => Promise<T>): Promise<T>;
  /** The driver's error in the port's words; passes a StoreError through. */
  storeError(error: unknown): StoreError;
}
