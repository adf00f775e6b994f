import { spawn } from "node:child_process";
import { rename, rm, stat } from "node:fs/promises";
import type { BackupFacts } from "#core/upkeep/backup-run.ts";
import { StoreError } from "../port.ts";
import { postgresSchemaVersion } from "./migrate.ts";
import { openPool } from "./pool.ts";

/** Runs one of the server's own tools; the password goes by the environment, so that no list of processes shows it. */
async function tool(name: string, args: readonly string[], url: string): Promise<string> {
  const { hostname, port, username, password, pathname } = new URL(url);
  const env = {
    ...process.env,
    PGHOST: hostname,
    PGPORT: port === "" ? "5432" : port,
    PGUSER: decodeURIComponent(username),
    PGPASSWORD: decodeURIComponent(password),
    PGDATABASE: pathname.slice(1),
  };
  return await new Promise((resolve, reject) => {
    const child = spawn(name, args, { env, stdio: ["ignore", "pipe", "pipe"] });
    let [out, errors] = ["", ""];
    child.stdout.on("data", (chunk: Buffer) => {
      out += chunk.toString();
    });
    child.stderr.on("data", (chunk: Buffer) => {
      errors += chunk.toString();
    });
    child.once("error", (cause: NodeJS.ErrnoException) => {
      const says =
        cause.code === "ENOENT"
          ? `${name} is not installed on this machine: install the client tools of the server's PostgreSQL version, or make backups on the server itself.`
          : `${name} could not be run: ${cause.message}.`;
      reject(new StoreError("unavailable", says, { cause }));
    });
    child.once("close", (code) => {
      if (code === 0) resolve(out);
      else
        reject(
          new StoreError("unavailable", `${name} failed: ${errors.trim().split("\n").slice(-2).join(" ")}`),
        );
    });
  });
}

/** Dumps a database with pg_dump (custom format) and reads the dump's table of contents. Rejects with a StoreError; then there is no file `to`. */
export async function backUpPostgres(url: string, to: string): Promise<BackupFacts> {
  const partial = `${to}.partial`;
  const pool = openPool(url, 1);
  try {
    // Asked before: the dump holds at least this much.
    const schema = await postgresSchemaVersion(pool);
    const { rows } = await pool.query<{ readings: number; received: number | null }>(
      `select (select value from counter where name = 'readings') as readings,
        (select received from journal order by seq desc limit 1) as received`,
    );
    await tool("pg_dump", ["--format=custom", "--no-owner", "--no-privileges", "--file", partial], url);
    const contents = await tool("pg_restore", ["--list", partial], url);
    if (!/TABLE DATA public journal /.test(contents))
      throw new StoreError(
        "invalid",
        `The dump ${to} has no journal: is ${new URL(url).pathname.slice(1)} a Homewater database?`,
      );
    const { size } = await stat(partial);
    await rename(partial, to);
    return { bytes: size, readings: rows[0]?.readings ?? 0, upTo: rows[0]?.received ?? null, schema };
  } catch (error) {
    await rm(partial, { force: true });
    throw error;
  } finally {
    await pool.end();
  }
}

/** Restores a dump into an empty database. Rejects with a StoreError where it is not empty. */
export async function restorePostgres(backup: string, url: string): Promise<void> {
  const pool = openPool(url, 1);
  try {
    const { rows } = await pool.query<{ tables: number }>(
      "select count(*)::integer as tables from information_schema.tables where table_schema = 'public'",
    );
    if ((rows[0]?.tables ?? 0) > 0)
      throw new StoreError(
        "invalid",
        `The database ${new URL(url).pathname.slice(1)} is not empty: create a new one (createdb), set HOMEWATER_DATABASE_URL to it, and restore into that; the old one stays.`,
      );
  } finally {
    await pool.end();
  }
  await tool(
    "pg_restore",
    ["--no-owner", "--no-privileges", "--exit-on-error", "--dbname", new URL(url).pathname.slice(1), backup],
    url,
  );
}
