import { type CleanedWhere, createAdapterFactory } from "better-auth/adapters";
import type {
  AccountRow,
  AccountRows,
  AccountTable,
  AccountValue,
  AccountWhere,
} from "#core/people/person.ts";

const TABLES: ReadonlySet<string> = new Set(["user", "session", "account"]);
/** The library treats these as dates; they are stored as UTC milliseconds. */
const INSTANTS: ReadonlySet<string> = new Set(["createdAt", "updatedAt", "expiresAt"]);
const OPERATORS: ReadonlySet<string> = new Set(["eq", "ne", "lt", "lte", "gt", "gte", "in"]);

function tableOf(model: string): AccountTable {
  if (!TABLES.has(model)) throw new Error(`the session store has no table "${model}"`);
  return model as AccountTable;
}

const stored = (value: unknown): AccountValue =>
  value instanceof Date ? value.getTime() : ((value ?? null) as AccountValue);

const rowOf = (data: Readonly<Record<string, unknown>>): AccountRow =>
  Object.fromEntries(Object.entries(data).map(([field, value]) => [field, stored(value)]));

const dataOf = (row: AccountRow): Record<string, unknown> =>
  Object.fromEntries(
    Object.entries(row).map(([field, value]) => [
      field,
      INSTANTS.has(field) && typeof value === "number" ? new Date(value) : value,
    ]),
  );

/** What is asked is narrowed to what the rows can answer; anything else must not pass as "no condition". */
function conditions(where: readonly CleanedWhere[] = []): AccountWhere[] {
  return where.map(({ field, operator, value, connector }) => {
    if (connector === "OR" && where.length > 1)
      throw new Error("the session store supports only conditions that all hold (AND)");
    if (operator === undefined || !OPERATORS.has(operator))
      throw new Error(`the session store does not support the operator "${operator}"`);
    return {
      field,
      operator: operator as AccountWhere["operator"],
      value: Array.isArray(value) ? value.map((item) => item as string | number) : stored(value),
    };
  });
}

/** The session library over the store's rows. */
export const rowsAdapter = (rows: AccountRows) =>
  createAdapterFactory({
    config: {
      adapterId: "homewater-store",
      supportsDates: true,
      supportsBooleans: true,
      supportsJSON: false,
    },
    adapter: () => ({
      create: async ({ model, data }) => {
        await rows.insert(tableOf(model), rowOf(data));
        return data;
      },
      findOne: async ({ model, where }) => {
        const [row] = await rows.find(tableOf(model), conditions(where), { limit: 1 });
        return row ? (dataOf(row) as never) : null;
      },
      findMany: async ({ model, where, limit, offset, sortBy }) => {
        const sort = sortBy && { field: sortBy.field, descending: sortBy.direction === "desc" };
        const page = { limit, ...(offset === undefined ? {} : { offset }), ...(sort ? { sort } : {}) };
        return (await rows.find(tableOf(model), conditions(where), page)).map((row) => dataOf(row) as never);
      },
      update: async ({ model, where, update }) => {
        const table = tableOf(model);
        const asked = conditions(where);
        await rows.update(table, asked, rowOf(update as Record<string, unknown>));
        const [row] = await rows.find(table, asked, { limit: 1 });
        return row ? (dataOf(row) as never) : null;
      },
      updateMany: ({ model, where, update }) => rows.update(tableOf(model), conditions(where), rowOf(update)),
      delete: async ({ model, where }) => {
        await rows.remove(tableOf(model), conditions(where));
      },
      deleteMany: ({ model, where }) => rows.remove(tableOf(model), conditions(where)),
      count: ({ model, where }) => rows.count(tableOf(model), conditions(where)),
    }),
  });
