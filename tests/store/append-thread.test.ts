import { rm } from "node:fs/promises";
import BetterSqlite3 from "better-sqlite3";
import { afterEach, describe, expect, it } from "vitest";
import { startAppendThread } from "#store/sqlite/append-thread.ts";
import { type TemporaryStore, temporaryStore } from "../helpers/open-store.ts";
import { T, withParts } from "./contract/subject.ts";

const opened: TemporaryStore[] = [];
const open = async (options: Parameters<typeof temporaryStore>[0]) => {
  const one = await temporaryStore(options);
  opened.push(one);
  return one;
};
afterEach(async () => {
  for (const one of opened.splice(0)) await one.dispose();
});

/** A mixture in which every fate occurs, a mark and a sequence number too. */
async function history(temporary: TemporaryStore) {
  const { store, append, reading } = await withParts(temporary.store);
  const outcomes = [
    await append([reading(T, 1), { ...reading(T + 1, 2), mark: "possible_repeat", sequence: 7 }]),
    await append([reading(T, 1), reading(T + 1, 3), reading(T + 2, 4), reading(T + 2, 4)]),
    await store.append({
      now: T + 10_000,
      readings: [],
      rejected: [{ topic: "a/b", reason: "bad", sample: Uint8Array.of(1, 2), bytes: 2, source: "x" }],
      unclaimed: [],
    }),
    await append(Array.from({ length: 20_000 }, (_, n) => reading(T + 100 + n, n / 8))),
  ];
  const rows = new BetterSqlite3(temporary.file, { readonly: true });
  const tables = ["reading", "reading_mark", "reading_conflict", "journal", "rejected_message", "counter"];
  const content = tables.map((table) => rows.prepare(`select * from ${table}`).all());
  rows.close();
  return { outcomes: outcomes.map(({ fates, ...rest }) => ({ ...rest, fates: fates.join() })), content };
}

describe("committing in a thread of its own", () => {
  it("stores and says what committing in the caller's thread does", async () => {
    const here = await history(await open({}));
    const there = await history(await open({ appendThread: startAppendThread }));
    expect(there).toEqual(here);
    expect(there.outcomes.map((one) => one.fates.split(",")[0])).toEqual([
      "stored",
      "duplicate",
      "",
      "stored",
    ]);
  });

  it("passes on that the disk is full, stores nothing of that batch, and goes on when there is room", async () => {
    const temporary = await open({ appendThread: startAppendThread, maxBytes: 2_000_000 });
    const { store, append, reading } = await withParts(temporary.store);
    const many = Array.from({ length: 100_000 }, (_, n) => reading(T + n, n));
    await expect(append(many)).rejects.toMatchObject({ code: "full" });
    expect((await append([reading(T, 1)])).fates).toEqual(["stored"]);
    expect((await store.status()).counts.readings).toBe(1);
  });

  it("says why where the thread cannot work, and tries again with the next batch", async () => {
    const temporary = await open({});
    const { reading } = await withParts(temporary.store);
    const thread = startAppendThread({ file: `${temporary.file}-elsewhere`, maxBytes: null });
    const batch = { now: T, readings: [reading(T, 1)], rejected: [], unclaimed: [] };
    await expect(thread.append(batch)).rejects.toMatchObject({ code: "unavailable" });
    await temporary.store.close();
    await rm(`${temporary.file}-elsewhere`, { force: true });
    const copy = new BetterSqlite3(temporary.file);
    await copy.backup(`${temporary.file}-elsewhere`);
    copy.close();
    expect((await thread.append(batch)).fates).toBeNull();
    await thread.close();
  });
});
