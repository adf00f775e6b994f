/** The process that brings the schema up to date is killed at any moment: the file is of one version, whole, and the next start goes on. */
import { spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import BetterSqlite3 from "better-sqlite3";
import { readMigrationFiles } from "drizzle-orm/migrator";
import { afterEach, expect, it } from "vitest";
import { migrationsFolder } from "#store/migrations-folder.ts";
import { openSqlite } from "#store/sqlite/open.ts";
import { killsOr, seeded, seedOfRun } from "./home.ts";

const closers: (() => Promise<unknown>)[] = [];
afterEach(async () => {
  for (const close of closers.splice(0).reverse()) await close();
});

const migrations = readMigrationFiles({ migrationsFolder: migrationsFolder("sqlite") });
const catalogueOf = (connection: BetterSqlite3.Database) =>
  connection
    .prepare("select type, name, sql from sqlite_master where name not like 'sqlite_%' order by type, name")
    .all();

/** What the catalogue is after so many migrations, each statement run by itself. */
function wholeCatalogues(): string[] {
  const connection = new BetterSqlite3(":memory:");
  const catalogues = [JSON.stringify(catalogueOf(connection))];
  for (const { sql } of migrations) {
    for (const statement of sql) connection.exec(statement);
    catalogues.push(JSON.stringify(catalogueOf(connection)));
  }
  connection.close();
  return catalogues;
}

it("a kill in the middle of a migration leaves the old or the new version whole, and the next start goes on", {
  timeout: 60_000 + killsOr(4) * 15_000,
}, async () => {
  const random = seeded(seedOfRun());
  const whole = wholeCatalogues();
  const versions: number[] = [];
  for (let kill = 0; kill < killsOr(4); kill += 1) {
    const folder = await mkdtemp(join(tmpdir(), "homewater-migrate-"));
    closers.push(() => rm(folder, { recursive: true, force: true }));
    const file = join(folder, "homewater.db");
    const child = spawn(process.execPath, ["--import", "tsx", "tests/faults/migrate-file.ts", file], {
      stdio: "ignore",
    });
    const ended = new Promise((resolve) => child.once("exit", resolve));
    while (!existsSync(`${file}-wal`) && child.exitCode === null) await pause(1);
    await pause(random() * 40);
    child.kill("SIGKILL");
    await ended;
    const connection = new BetterSqlite3(file);
    const catalogue = JSON.stringify(catalogueOf(connection));
    const version = whole.indexOf(catalogue);
    expect(version, "the tables are those of one version").toBeGreaterThanOrEqual(0);
    if (version > 0)
      expect(connection.prepare("select value from meta where key = 'schema'").pluck().get()).toBe(
        String(version),
      );
    expect(connection.pragma("integrity_check", { simple: true })).toBe("ok");
    connection.close();
    versions.push(version);
    const store = await openSqlite({ file, migrate: true });
    expect((await store.status()).schema).toBe(migrations.length);
    await store.close();
  }
  console.info(
    `migration: ${versions.length} kills, left at versions ${versions.join(" ")} of ${migrations.length}`,
  );
});
