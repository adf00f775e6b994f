import {
  and,
  asc,
  type Column,
  count,
  desc,
  eq,
  getTableColumns,
  gt,
  gte,
  inArray,
  isNull,
  lt,
  lte,
  ne,
  type SQL,
} from "drizzle-orm";
import type { AccountRow, AccountRows, AccountTable, AccountWhere } from "#core/people/person.ts";
import type { Database } from "../kits/postgres.ts";
import { StoreError } from "../port.ts";
import type { Tables } from "../tables/tables.ts";
import type { Engine } from "./engine.ts";
import { moveMark } from "./people.ts";

const COMPARE = { eq, ne, lt, lte, gt, gte } as const;

const tableOf = ({ person, session, credential }: Tables, name: AccountTable) =>
  ({ user: person, session, account: credential })[name] as Tables["person"];

function columnOf(table: Tables["person"], field: string): Column {
  const columns: Record<string, Column> = getTableColumns(table);
  const column = Object.hasOwn(columns, field) ? columns[field] : undefined;
  if (column === undefined) throw new StoreError("invalid", `There is no column "${field}" for an account.`);
  return column;
}

function condition(table: Tables["person"], { field, operator, value }: AccountWhere): SQL {
  const column = columnOf(table, field);
  if (operator === "in") return inArray(column, Array.isArray(value) ? [...value] : [value]);
  if (value === null && operator === "eq") return isNull(column);
  return COMPARE[operator](column, value);
}
const all = (table: Tables["person"], where: readonly AccountWhere[]) =>
  and(...where.map((part) => condition(table, part)));

function known(table: Tables["person"], row: AccountRow): AccountRow {
  for (const field of Object.keys(row)) columnOf(table, field);
  return row;
}

/** The rows of the session library over an engine; every failure is the caller's to map. */
export function accountRows(db: Database, tables: Tables, atomically: Engine["atomically"]): AccountRows {
  return {
    insert: (name, row) =>
      atomically(async ({ db: writing }) => {
        const table = tableOf(tables, name);
        await writing.insert(table).values(known(table, row) as Tables["person"]["$inferInsert"]);
      }),
    async find(name, where, page = {}) {
      const table = tableOf(tables, name);
      const order = page.sort && columnOf(table, page.sort.field);
      const query = db
        .select()
        .from(table)
        .where(all(table, where))
        .orderBy(order ? (page.sort?.descending ? desc(order) : asc(order)) : asc(table.id))
        .limit(page.limit ?? 100)
        .offset(page.offset ?? 0);
      return (await query) as AccountRow[];
    },
    update: (name, where, change) =>
      atomically(async ({ db: writing }) => {
        const table = tableOf(tables, name);
        const set = known(table, change) as Partial<Tables["person"]["$inferInsert"]>;
        return (await writing.update(table).set(set).where(all(table, where)).returning({ id: table.id }))
          .length;
      }),
    remove: (name, where) =>
      atomically(async ({ db: writing }) => {
        const table = tableOf(tables, name);
        const gone = await writing.delete(table).where(all(table, where)).returning({ id: table.id });
        if (gone.length > 0) await moveMark(writing, tables);
        return gone.length;
      }),
    async count(name, where) {
      const table = tableOf(tables, name);
      const [row] = await db.select({ n: count() }).from(table).where(all(table, where));
      return Number(row?.n ?? 0);
    },
  };
}
