import { spawn } from "node:child_process";
import { chmod, mkdtemp, rm } from "node:fs/promises";
import { tmpdir, userInfo } from "node:os";
import { join } from "node:path";
import { createInterface } from "node:readline";
import BetterSqlite3 from "better-sqlite3";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { openStore } from "#store/open/open.ts";
import { StoreError } from "#store/port.ts";
import { assertDurable, assertWritable } from "#store/sqlite/connection.ts";
import { sqliteStoreError } from "#store/sqlite/errors.ts";
import { openSqlite } from "#store/sqlite/open.ts";
import { temporaryStore } from "../helpers/open-store.ts";
import { SET_UP, T, withParts } from "./contract/subject.ts";
import { describeStore } from "./contract.ts";
import { sqliteSubject } from "./subjects.ts";

describeStore("SQLite", sqliteSubject);

describe("a SQLite file", () => {
  let folder: string;
  let file: string;
  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), "homewater-sqlite-"));
    file = join(folder, "deep", "er", "homewater.db");
  });
  afterEach(async () => {
    await rm(folder, { recursive: true, force: true });
  });

  it("is made with its folders by the process that may migrate, and by no other", async () => {
    await expect(openSqlite({ file, migrate: false })).rejects.toMatchObject({
      name: "StoreError",
      code: "unavailable",
    });
    const store = await openStore(`file:${file}`, { migrate: true });
    await store.close();
    await store.close();
    const again = await openStore(`file://${file}`, { migrate: false });
    expect(again.dialect).toBe("sqlite");
    await again.close();
  });

  it("is refused where a commit would not be on disk before it is acknowledged", async () => {
    // The build of better-sqlite3 falls back to synchronous=NORMAL after the switch to WAL; this shows that trap, and the guard.
    const connection = new BetterSqlite3(join(folder, "trap.db"));
    connection.pragma("journal_mode = WAL");
    connection.exec("create table t (a)");
    expect(connection.pragma("synchronous", { simple: true })).toBe(1);
    expect(() => assertDurable(connection, "trap.db")).toThrow(/synchronous=1 instead of 2/);
    connection.pragma("synchronous = FULL");
    connection.exec("insert into t values (1)");
    expect(() => assertDurable(connection, "trap.db")).not.toThrow();
    connection.close();
  });

  it("fails with code full where it may not grow, keeps what was stored and goes on reading", async () => {
    const small = await openSqlite({ file, migrate: true, maxBytes: 1_500_000 });
    const { temperature, reading, append } = await withParts(small);
    let stored = 0;
    const fill = async () => {
      for (let batch = 0; batch < 200; batch += 1) {
        await append(Array.from({ length: 500 }, (_, n) => reading(T + batch * 500 + n, n / 3)));
        stored += 500;
      }
    };
    const failure = await fill().catch((error: unknown) => error);
    expect(failure).toBeInstanceOf(StoreError);
    expect(failure).toMatchObject({ code: "full", cause: { code: "SQLITE_FULL" } });
    expect(stored).toBeGreaterThan(0);
    expect(await small.readingsBetween([temperature], 0, T * 2, T * 2)).toHaveLength(stored);
    expect((await small.status()).counts.readings).toBe(stored);
    await small.close();
    const larger = await withParts(await openSqlite({ file, migrate: false }));
    expect((await larger.append([larger.reading(T * 2, 1)])).fates).toEqual(["stored"]);
    await larger.store.close();
  });

  it("fails with code read-only where this user may not write it", async () => {
    const store = await openSqlite({ file, migrate: true });
    await store.close();
    await chmod(file, 0o444);
    if (userInfo().uid === 0) {
      // Root may write any file, so the driver's own refusal stands in: a connection opened for reading.
      const connection = new BetterSqlite3(file, { readonly: true });
      const refused = () => assertWritable(connection);
      expect(refused).toThrow();
      try {
        refused();
      } catch (error) {
        expect(sqliteStoreError(error, file)).toMatchObject({ code: "read-only", cause: error });
      }
      connection.close();
    } else {
      await expect(openSqlite({ file, migrate: true })).rejects.toMatchObject({ code: "read-only" });
    }
  });

  it("waits for another writer without stopping this process, and gives up with a reason", async () => {
    const store = await openSqlite({ file, migrate: true });
    const other = new BetterSqlite3(file);
    other.exec("begin immediate");
    let ticks = 0;
    const clock = setInterval(() => {
      ticks += 1;
    }, 10);
    const waiting = store.note("up", null, T);
    await new Promise((resolve) => setTimeout(resolve, 200));
    expect(ticks).toBeGreaterThan(5);
    other.exec("commit");
    expect(await waiting).toMatchObject({ seq: 1 });
    other.exec("begin immediate");
    await expect(store.note("up", null, T)).rejects.toMatchObject({
      code: "unavailable",
      cause: { code: "SQLITE_BUSY" },
    });
    clearInterval(clock);
    other.close();
    await store.close();
  }, 15_000);

  it("keeps everything it acknowledged when the process is killed, each batch whole", async () => {
    for (let kill = 0; kill < 3; kill += 1) {
      const { file: path, store, dispose } = await temporaryStore();
      await store.writeSetUp(SET_UP, [], T);
      const acknowledged = await appendUntilKilled(path, 150 + kill * 90);
      const reopened = await openSqlite({ file: path, migrate: false });
      const rows = await reopened.readingsBetween([1], 0, T * 2, T * 2);
      expect(acknowledged).toBeGreaterThan(0);
      expect(rows.length).toBeGreaterThanOrEqual(acknowledged * BATCH);
      expect(rows.length % BATCH).toBe(0);
      expect(await reopened.readingsOf(await reopened.journalAfter(0, 1_000_000))).toHaveLength(rows.length);
      expect((await reopened.status()).counts.readings).toBe(rows.length);
      await reopened.close();
      await dispose();
    }
  });
});

const BATCH = 7;

/** Runs a writer in a process of its own, kills it after it acknowledged for a while; the number of batches it acknowledged. */
async function appendUntilKilled(file: string, milliseconds: number): Promise<number> {
  const program = join(import.meta.dirname, "append-until-killed.ts");
  const child = spawn(process.execPath, ["--import", "tsx", program, file, String(BATCH)], {
    stdio: ["ignore", "pipe", "inherit"],
  });
  const ended = new Promise((resolve) => child.once("exit", resolve));
  let acknowledged = 0;
  for await (const line of createInterface({ input: child.stdout })) {
    if (acknowledged === 0) setTimeout(() => child.kill("SIGKILL"), milliseconds);
    acknowledged = Number(line);
  }
  await ended;
  return acknowledged;
}
