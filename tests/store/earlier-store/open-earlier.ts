/** Opens a copy of the store that earlier code made, on either database; opening it brings its schema up to date. */
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { gunzipSync } from "node:zlib";
import type { Store } from "#store/port.ts";
import { openPostgres } from "#store/postgres/open.ts";
import { openSqlite } from "#store/sqlite/open.ts";
import { type PostgresServer, runStatement } from "#tests/helpers/postgres-server.ts";

const FIXTURE = resolve(import.meta.dirname, "../../../fixtures/earlier-store");
const unpacked = async (name: string): Promise<Buffer> => gunzipSync(await readFile(join(FIXTURE, name)));

export interface Opened {
  readonly store: Store;
  dispose(): Promise<void>;
}

/** What the code of then answered, by name of the question. */
export async function earlierAnswers(): Promise<unknown> {
  return JSON.parse(await readFile(join(FIXTURE, "answers.json"), "utf8"));
}

export async function openEarlierSqlite(): Promise<Opened> {
  const folder = await mkdtemp(join(tmpdir(), "homewater-earlier-"));
  const file = join(folder, "homewater.db");
  await writeFile(file, await unpacked("store.db.gz"));
  const store = await openSqlite({ file, migrate: true });
  return {
    store,
    async dispose() {
      await store.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

/** In a database of its own whose owner is no superuser, as Homewater's is in most houses. */
export async function openEarlierPostgres(server: PostgresServer): Promise<Opened> {
  const asSuperuser = await server.createDatabase();
  const url = new URL(asSuperuser);
  const database = url.pathname.slice(1);
  url.username = `owner_of_${database}`;
  url.password = "quiet limpets";
  await runStatement(asSuperuser, `create role ${url.username} login password 'quiet limpets'`);
  await runStatement(asSuperuser, `alter database ${database} owner to ${url.username}`);
  await runStatement(url.href, (await unpacked("store.sql.gz")).toString("utf8"));
  const store = await openPostgres({ url: url.href, migrate: true });
  return { store, dispose: () => store.close() };
}
