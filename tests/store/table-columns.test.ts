import { getTableColumns, getTableName } from "drizzle-orm";
import type { PgTable } from "drizzle-orm/pg-core";
import { expect, test } from "vitest";
import { chunks } from "#store/queries/rows.ts";
import { CURRENT_ROWS, DERIVED_ROWS, FLAG_ROWS, ROLLUP_ROWS, upsertText } from "#store/tables/bulk.ts";
import { postgresTables } from "#store/tables/schema-postgres.ts";
import { sqliteTables } from "#store/tables/schema-sqlite.ts";
import { arrayParameters, insertInto } from "#store/tables/table-columns.ts";

const named = (table: PgTable) => Object.values(getTableColumns(table)).map(({ name }) => name);

test("rows written in bulk have the columns and the key of their table, in both dialects", () => {
  for (const { name, columns, key } of [FLAG_ROWS, DERIVED_ROWS, ROLLUP_ROWS, CURRENT_ROWS]) {
    const own = (tables: object) =>
      Object.values(tables).find((table) => getTableName(table as PgTable) === name) as PgTable;
    expect(columns.map(([column]) => column)).toEqual(named(own(postgresTables)));
    expect(columns.map(([column]) => column)).toEqual(named(own(sqliteTables)));
    expect(key.length).toBeGreaterThan(0);
  }
  expect(ROLLUP_ROWS.key).toEqual(["width", "stream", "start"]);
  expect(CURRENT_ROWS.key).toEqual(["stream"]);
});

test("an upsert names every column once and sets all but the key", () => {
  expect(upsertText(FLAG_ROWS, "values (?, ?, ?, ?)")).toBe(
    'insert into "flag" ("stream", "at", "flag", "reasons") values (?, ?, ?, ?) on conflict ("stream", "at") do update set "flag" = excluded."flag", "reasons" = excluded."reasons"',
  );
});

test("an insert written by hand must name every column of its table once", () => {
  const { readingMark } = sqliteTables;
  const whole = ["stream", "at", "mark", "received"];
  expect(insertInto(readingMark, whole)).toBe(
    'insert into "reading_mark" ("stream", "at", "mark", "received")',
  );
  for (const wrong of [whole.slice(1), [...whole, "stream"], ["stream", "at", "mark", "source"]])
    expect(() => insertInto(readingMark, wrong)).toThrow(
      `An insert into reading_mark names ${wrong.join(", ")}; the table has stream, at, mark, received: name every column once.`,
    );
});

test("array parameters are numbered from one with the type of their column", () => {
  expect(arrayParameters(FLAG_ROWS.columns)).toBe("$1::integer[], $2::bigint[], $3::integer[], $4::text[]");
});

test("a chunk of rows takes no more parameters than a statement may have", () => {
  const rows = Array.from({ length: 5_000 }, (_, i) => i);
  for (const table of Object.values(sqliteTables)) {
    const parts = [...chunks(rows, table)];
    expect(parts.flat()).toEqual(rows);
    for (const part of parts) expect(part.length * named(table).length).toBeLessThanOrEqual(30_000);
  }
});
