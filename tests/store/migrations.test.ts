import { cp, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import BetterSqlite3 from "better-sqlite3";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { migrationsFolder } from "#store/migrations-folder.ts";
import type { Store } from "#store/port.ts";
import { migratePostgres, postgresSchemaVersion } from "#store/postgres/migrate.ts";
import { openPostgres } from "#store/postgres/open.ts";
import { openPool } from "#store/postgres/pool.ts";
import { SCHEMA_VERSION } from "#store/schema-version.ts";
import { migrateSqlite, sqliteSchemaVersion } from "#store/sqlite/migrate.ts";
import { openSqlite } from "#store/sqlite/open.ts";
import { type PostgresServer, postgresMissing, startPostgres } from "../helpers/postgres-server.ts";
import { EMPTY_PATCH } from "./contract/subject.ts";

const missing = await postgresMissing();

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "homewater-migrations-"));
});
afterEach(async () => {
  await rm(folder, { recursive: true, force: true });
});

interface Journal {
  entries: { idx: number; tag: string; when: number; version: string; breakpoints: boolean }[];
}
const journalOf = async (of: string): Promise<Journal> =>
  JSON.parse(await readFile(join(of, "meta", "_journal.json"), "utf8")) as Journal;

/** A copy of a dialect's migrations with one more behind them. */
async function withNext(dialect: "sqlite" | "postgres", statements: readonly string[]): Promise<string> {
  const copy = join(folder, dialect);
  await cp(migrationsFolder(dialect), copy, { recursive: true });
  const journal = await journalOf(copy);
  const idx = journal.entries.length;
  journal.entries.push({ idx, tag: "next", when: 9e12, version: "7", breakpoints: true });
  await writeFile(join(copy, "meta", "_journal.json"), JSON.stringify(journal));
  await writeFile(join(copy, "next.sql"), statements.join("\n--> statement-breakpoint\n"));
  return copy;
}

/** A copy of a dialect's migrations as they were before the one of this name. */
async function migrationsBefore(dialect: "sqlite" | "postgres", tag: string): Promise<string> {
  const copy = join(folder, `${dialect}-before`);
  await cp(migrationsFolder(dialect), copy, { recursive: true });
  const journal = await journalOf(copy);
  const entries = journal.entries.slice(
    0,
    journal.entries.findIndex((entry) => entry.tag === tag),
  );
  await writeFile(join(copy, "meta", "_journal.json"), JSON.stringify({ ...journal, entries }));
  return copy;
}

/** Rows of before formulas had numbers and checkpoints were packed. */
const OLD_ROWS = [
  "insert into derived (stream, at, value, low, high, formula) values (7, 1, 0.5, 0.25, 0.75, 'Hill et al.; 20 °C'), (7, 2, 0.5, null, null, 'Benson & Krause 1984'), (8, 1, -3, null, 1, 'Hill et al.; 20 °C')",
  `insert into checkpoint (system, at, state) values ('kelp', 5, '{"unit":"µS/cm"}')`,
];
async function expectCarriedOver(store: Store): Promise<void> {
  const first = { stream: 7, at: 1, value: 0.5, low: 0.25, high: 0.75, formula: "Hill et al.; 20 °C" };
  const second = { stream: 7, at: 2, value: 0.5, low: null, high: null, formula: "Benson & Krause 1984" };
  expect(await store.readDerived(7, 0, 9, 9)).toEqual([first, second]);
  expect(await store.readDerived(8, 0, 9, 9)).toEqual([
    { stream: 8, at: 1, value: -3, low: null, high: 1, formula: "Hill et al.; 20 °C" },
  ]);
  expect(await store.checkpointAtOrBefore("kelp", 9)).toEqual({
    system: "kelp",
    at: 5,
    state: '{"unit":"µS/cm"}',
  });
  // Known formulas keep their numbers, new ones get one.
  const lease = await store.acquireLease("evaluator", "test", 10, 1_000);
  if (!lease) throw new Error("the lease is taken");
  const written = [
    { ...second, at: 3 },
    { ...second, at: 4, formula: "Clegg & Whitfield 1995" },
  ];
  await store.commitEvaluation(
    { ...EMPTY_PATCH, derived: written, cursor: { seq: 0, received: 10 } },
    { seq: 0, lease, leaseName: "evaluator" },
  );
  expect(await store.readDerived(7, 0, 9, 9)).toEqual([first, second, ...written]);
}

/** A site of before points had roles and systems types. */
const OLD_POINTS = [
  "display",
  "display-2",
  "contact-chamber",
  "ozone-contact",
  "make-up",
  "make-up-ro",
  "sump",
  "filters",
  "plant-room",
  "pump-1",
  "float-high",
  "link-valve",
  "treatment-loop",
  "room-air",
];
const OLD_KINDS = {
  kelp: "Temperate marine, sharks",
  rays: "tropical marine, rays",
  den: "cold marine, octopus",
  ring: "jelly kreisel",
  moons: "jellyfish",
  q2: "quarantine, tropical marine",
  q3: "Quarantine",
  pond: "puddle",
};
const oldSite = (yes: string) => [
  "insert into site (id, code, name, zone, latitude, longitude, elevation) values ('s', 'harbour', 'Harbour', 'UTC', 0, 0, 0)",
  ...Object.entries(OLD_KINDS).map(
    ([code, kind]) =>
      `insert into system (id, site, code, name, kind, water, volume, duty, opened, closed, young_filter) values ('id-${code}', 's', '${code}', '${code}', '${kind}', 'marine', 10, null, 0, null, ${yes})`,
  ),
  ...OLD_POINTS.map(
    (code) =>
      `insert into point (id, system, code, twin_of) values ('id-${code}', 'id-kelp', '${code}', ${code === "display-2" ? "'id-display'" : "null"})`,
  ),
];
async function expectSiteCarriedOver(store: Store): Promise<void> {
  const { points, systems } = await store.readSetUp();
  expect(points.every((point) => point.roleGuessed)).toBe(true);
  expect(points.find((point) => point.code === "display-2")?.twinOf).toBe("id-display");
  expect(Object.fromEntries(points.map(({ code, role }) => [code, role]))).toEqual({
    display: "exhibit",
    "display-2": "exhibit",
    "contact-chamber": "contact-chamber",
    "ozone-contact": "contact-chamber",
    "make-up": "make-up",
    "make-up-ro": "make-up",
    sump: "sump",
    filters: "filter",
    "plant-room": "plant-room",
    "pump-1": "equipment",
    "float-high": "equipment",
    "link-valve": "equipment",
    "treatment-loop": "other",
    // Until now its readings counted as the system's water: a person says that it is air.
    "room-air": "other",
  });
  expect(
    Object.fromEntries(systems.map(({ code, type, startingBands }) => [code, [type, startingBands]])),
  ).toEqual({
    kelp: ["exhibit", "temperate marine"],
    rays: ["exhibit", "tropical marine"],
    den: ["exhibit", "octopus"],
    ring: ["exhibit", "jelly"],
    moons: ["exhibit", null],
    q2: ["quarantine", "tropical marine"],
    q3: ["quarantine", null],
    pond: ["exhibit", null],
  });
  expect(systems.map(({ code, kind, youngFilter }) => [code, kind, youngFilter]).sort()).toEqual(
    Object.entries(OLD_KINDS)
      .map(([code, kind]) => [code, kind, true])
      .sort(),
  );
}

/** The migration that puts into columns what stood in sentences, and rows of before it. */
const INTO_COLUMNS = "0008_facts";
const ASKED = "That is 4.5 times the usual result here (1 mg/L). Is it right?";
const TESTED = [
  ["right", `Asked and confirmed as right. ${ASKED}`, { answer: "right", asked: ASKED, reason: null }],
  ["again", `Not sure, test again. ${ASKED}`, { answer: "again", asked: ASKED, reason: null }],
  ["open", "Asked and not answered.", { answer: "unanswered", asked: null, reason: null }],
  ["typed", "not sure, test again. Said Ada", { reason: "not sure, test again. Said Ada" }],
  ["plain", null, { reason: null }],
] as const;
const NOTED = [
  ["set-up", "system:bay-2@x-id@-86400000", { system: "bay-2@x-id", from: -86_400_000 }],
  ["set-up", "system:0198@1759000000000", { system: "0198", from: 1_759_000_000_000 }],
  ["set-up", null, null],
  ["calibration", "stream:12@34", { stream: 12, from: 34 }],
  ["log", "log-1", null],
] as const;
const text = (value: string | null) => (value === null ? "null" : `'${value}'`);
const OLD_SENTENCES = [
  "insert into bench_test (id, client_id, system, point, sampled_at, entered_at, received, analyst) values ('t', 'c', 'bay', 'display', 1, 1, 1, 'Ada')",
  ...TESTED.map(
    ([id, reason], i) =>
      `insert into bench_result (id, test, stream, at, received, quantity, typed, qualifier, unit_typed, value, replicate, reason) values ('${id}', 't', 7, ${i}, 1, 'ph', '8.1', '=', '[pH]', 8.1, 1, ${text(reason)})`,
  ),
  ...NOTED.map(
    ([kind, ref], i) =>
      `insert into journal (seq, kind, ref, received) values (${i + 1}, '${kind}', ${text(ref)}, ${i + 1})`,
  ),
];
async function expectInColumns(store: Store): Promise<void> {
  const results = await store.benchBetween([7], 0, 9, 9);
  const nothingAsked = { answer: null, asked: null };
  expect(results).toMatchObject(TESTED.map(([id, , facts]) => ({ id, ...nothingAsked, ...facts })));
  expect(await store.journalAfter(0, 9)).toMatchObject(
    NOTED.map(([kind, ref, rejudge]) => ({ kind, ref: rejudge === null ? ref : null, rejudge })),
  );
}

const GOOD = ["create table extra (id integer)", "insert into extra values (1)"];
const BROKEN = [...GOOD, "insert into no_such_table values (1)"];
const NEXT = SCHEMA_VERSION + 1;

it("both folders hold as many migrations as the program's schema version", async () => {
  for (const dialect of ["sqlite", "postgres"] as const) {
    expect((await journalOf(migrationsFolder(dialect))).entries).toHaveLength(SCHEMA_VERSION);
  }
});

describe("SQLite migrations", () => {
  const open = () => new BetterSqlite3(join(folder, "homewater.db"));

  it("bring an empty file to the newest schema, and run once", async () => {
    const connection = open();
    expect(sqliteSchemaVersion(connection)).toBe(0);
    await migrateSqlite(connection, migrationsFolder("sqlite"));
    await migrateSqlite(connection, migrationsFolder("sqlite"));
    expect(sqliteSchemaVersion(connection)).toBe(SCHEMA_VERSION);
    expect(connection.pragma("integrity_check", { simple: true })).toBe("ok");
    connection.close();
  });

  it("are whole or absent when one breaks half way, and can be run again", async () => {
    const connection = open();
    const broken = await withNext("sqlite", BROKEN);
    await expect(migrateSqlite(connection, broken)).rejects.toThrow(/no_such_table/);
    expect(sqliteSchemaVersion(connection)).toBe(SCHEMA_VERSION);
    expect(connection.prepare("select 1 from sqlite_master where name = 'extra'").get()).toBeUndefined();
    await migrateSqlite(connection, await withNext("sqlite", GOOD));
    expect(sqliteSchemaVersion(connection)).toBe(NEXT);
    expect(connection.prepare("select count(*) from extra").pluck().get()).toBe(1);
    connection.close();
  });

  it("carry derived values and checkpoints of the version before over", async () => {
    const connection = open();
    await migrateSqlite(connection, await migrationsBefore("sqlite", "0006_lighter"));
    for (const statement of OLD_ROWS) connection.exec(statement);
    connection.close();
    const file = join(folder, "homewater.db");
    const store = await openSqlite({ file, migrate: true });
    await expectCarriedOver(store);
    await store.close();
    const after = open();
    expect(after.prepare("select count(*) from formula").pluck().get()).toBe(3);
    expect(after.pragma("integrity_check", { simple: true })).toBe("ok");
    after.close();
  });

  it("give points their roles and systems their types by what was read from names and words before", async () => {
    const connection = open();
    await migrateSqlite(connection, await migrationsBefore("sqlite", "0007_roles"));
    for (const statement of oldSite("1")) connection.exec(statement);
    connection.close();
    const store = await openSqlite({ file: join(folder, "homewater.db"), migrate: true });
    await expectSiteCarriedOver(store);
    await store.close();
    const after = open();
    expect(after.pragma("integrity_check", { simple: true })).toBe("ok");
    expect(after.pragma("foreign_key_check")).toEqual([]);
    after.close();
  });

  it("put a tester's answer and what is judged again into columns, and results stay as typed", async () => {
    const connection = open();
    await migrateSqlite(connection, await migrationsBefore("sqlite", INTO_COLUMNS));
    for (const statement of OLD_SENTENCES) connection.exec(statement);
    connection.close();
    const store = await openSqlite({ file: join(folder, "homewater.db"), migrate: true });
    await expectInColumns(store);
    await store.close();
    const after = open();
    expect(() => after.exec("update bench_result set reason = 'x'")).toThrow(/never changes/);
    after.close();
  });

  it("of a newer program are refused in one sentence that names both", async () => {
    const connection = open();
    await migrateSqlite(connection, await withNext("sqlite", GOOD));
    connection.close();
    for (const migrate of [true, false]) {
      const refused = openSqlite({ file: join(folder, "homewater.db"), migrate });
      await expect(refused).rejects.toMatchObject({
        code: "newer-schema",
        message: expect.stringMatching(new RegExp(`schema ${NEXT}\\b.*schema ${SCHEMA_VERSION}\\b`)),
      });
    }
  });

  it("are left to the accepting process", async () => {
    open().close();
    const refused = openSqlite({ file: join(folder, "homewater.db"), migrate: false });
    await expect(refused).rejects.toMatchObject({
      code: "unavailable",
      message: expect.stringContaining("schema 0"),
    });
  });

  it("run once when two processes start together", async () => {
    const file = join(folder, "homewater.db");
    const stores = await Promise.all([1, 2, 3].map(() => openSqlite({ file, migrate: true })));
    for (const store of stores) {
      expect((await store.status()).schema).toBe(SCHEMA_VERSION);
      await store.close();
    }
  });
});

describe.skipIf(missing !== null)(
  `PostgreSQL migrations${missing === null ? "" : ` (skipped: ${missing})`}`,
  () => {
    let server: PostgresServer;
    beforeAll(async () => {
      server = await startPostgres();
    });
    afterAll(async () => {
      await server.stop();
    });

    it("bring an empty database to the newest schema, and run once, also from two processes", async () => {
      const url = await server.createDatabase();
      const refused = openPostgres({ url, migrate: false });
      await expect(refused).rejects.toMatchObject({
        code: "unavailable",
        message: expect.stringContaining("schema 0"),
      });
      const stores = await Promise.all([1, 2, 3].map(() => openPostgres({ url, migrate: true })));
      for (const store of stores) {
        expect((await store.status()).schema).toBe(SCHEMA_VERSION);
        await store.close();
      }
    });

    it("are whole or absent when one breaks half way, and can be run again", async () => {
      const pool = openPool(await server.createDatabase(), 2);
      await expect(migratePostgres(pool, await withNext("postgres", BROKEN))).rejects.toThrow(
        /no_such_table/,
      );
      expect(await postgresSchemaVersion(pool)).toBe(SCHEMA_VERSION);
      expect((await pool.query("select to_regclass('extra') as found")).rows).toEqual([{ found: null }]);
      await migratePostgres(pool, await withNext("postgres", GOOD));
      expect(await postgresSchemaVersion(pool)).toBe(NEXT);
      await pool.end();
    });

    it("carry derived values and checkpoints of the version before over", async () => {
      const url = await server.createDatabase();
      const pool = openPool(url, 2);
      await migratePostgres(pool, await migrationsBefore("postgres", "0006_lighter"));
      for (const statement of OLD_ROWS) await pool.query(statement);
      const store = await openPostgres({ url, migrate: true });
      await expectCarriedOver(store);
      await store.close();
      expect((await pool.query("select count(*)::integer as n from formula")).rows).toEqual([{ n: 3 }]);
      await pool.end();
    });

    it("give points their roles and systems their types by what was read from names and words before", async () => {
      const url = await server.createDatabase();
      const pool = openPool(url, 2);
      await migratePostgres(pool, await migrationsBefore("postgres", "0007_roles"));
      for (const statement of oldSite("true")) await pool.query(statement);
      const store = await openPostgres({ url, migrate: true });
      await expectSiteCarriedOver(store);
      await store.close();
      await pool.end();
    });

    it("put a tester's answer and what is judged again into columns, and results stay as typed", async () => {
      const url = await server.createDatabase();
      const pool = openPool(url, 2);
      await migratePostgres(pool, await migrationsBefore("postgres", INTO_COLUMNS));
      for (const statement of OLD_SENTENCES) await pool.query(statement);
      const store = await openPostgres({ url, migrate: true });
      await expectInColumns(store);
      await store.close();
      await expect(pool.query("update bench_result set reason = 'x'")).rejects.toThrow(/never changes/);
      await pool.end();
    });

    it("of a newer program are refused in one sentence that names both", async () => {
      const url = await server.createDatabase();
      const pool = openPool(url, 2);
      await migratePostgres(pool, await withNext("postgres", GOOD));
      await pool.end();
      await expect(openPostgres({ url, migrate: true })).rejects.toMatchObject({
        code: "newer-schema",
        message: expect.stringMatching(new RegExp(`schema ${NEXT}\\b.*schema ${SCHEMA_VERSION}\\b`)),
      });
    });
  },
);
