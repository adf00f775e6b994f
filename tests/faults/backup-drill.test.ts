/** The drill: a backup beside a store under load, the store lost, the backup restored by one command; what is back is compared value by value. */
import { spawn } from "node:child_process";
import { existsSync, readdirSync } from "node:fs";
import { copyFile, mkdtemp, open, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pino } from "pino";
import { afterEach, beforeEach, expect, test } from "vitest";
import { MINUTE } from "#core/time/instant.ts";
import { runRestore } from "#ingest/backup/run.ts";
import { keepBackups } from "#ingest/backup/schedule.ts";
import type { Store } from "#store/port.ts";
import { openSqlite } from "#store/sqlite/open.ts";
import { makePeople } from "../helpers/sign-in.ts";
import { T, withParts } from "../store/contract/subject.ts";

const ROOT = join(import.meta.dirname, "../..");
let folder: string;
let file: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "homewater-drill-"));
  file = join(folder, "homewater.db");
});
afterEach(() => rm(folder, { recursive: true, force: true }));

const environment = () => ({ ...process.env, HOMEWATER_DATA: folder, HOMEWATER_BACKUP_KEEP: "2,0,0" });

function command(
  name: "backup" | "restore",
  ...args: string[]
): Promise<{ code: number | null; said: string }> {
  const child = spawn(
    process.execPath,
    ["--import", "tsx", join(ROOT, `ingest/commands/${name}.ts`), ...args],
    { env: environment() },
  );
  let said = "";
  for (const stream of [child.stdout, child.stderr])
    stream.on("data", (chunk: Buffer) => (said += chunk.toString()));
  return new Promise((resolve) => child.once("close", (code) => resolve({ code, said })));
}

const STREAM_READINGS = 60_000;

async function fill(store: Store): Promise<Awaited<ReturnType<typeof withParts>>> {
  const parts = await withParts(store);
  for (let start = 0; start < STREAM_READINGS; start += 5_000)
    await parts.append(
      Array.from({ length: 5_000 }, (_, n) => parts.reading(T + (start + n) * 1_000, Math.sin(start + n))),
      T + start * 1_000,
    );
  return parts;
}

test("what was acknowledged before a backup began is back after the store is lost, within the times promised, and no commit waited for it", async () => {
  const store = await openSqlite({ file, migrate: true });
  const parts = await fill(store);
  const acknowledged = new Map<number, number>();
  const delays: number[] = [];
  let at = T + STREAM_READINGS * 1_000;
  const one = async () => {
    at += 1_000;
    const began = performance.now();
    await parts.append([parts.reading(at, Math.cos(at))], Date.now());
    delays.push(performance.now() - began);
    acknowledged.set(at, Math.cos(at));
  };
  for (let n = 0; n < 50; n += 1) await one();
  const before = new Map(acknowledged);
  let isRunning = true;
  const started = performance.now();
  const backup = command("backup").finally(() => {
    isRunning = false;
  });
  delays.length = 0;
  while (isRunning) {
    await one();
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
  const { code, said } = await backup;
  expect(said).toMatch(/readings, everything up to .*; made and verified in/);
  expect(code).toBe(0);
  const sorted = [...delays].sort((a, b) => a - b);
  const p99 = sorted[Math.floor(sorted.length * 0.99)] ?? 0;
  console.info(
    `commits beside a backup: ${delays.length}, median ${sorted[sorted.length >> 1]?.toFixed(1)} ms, p99 ${p99.toFixed(1)} ms, longest ${sorted.at(-1)?.toFixed(1)} ms`,
  );
  // A commit that waited for the backup would take about as long as it. How long commits take is measured by the benchmarks.
  expect(delays.length).toBeGreaterThan(10);
  expect(sorted.at(-1)).toBeLessThan((performance.now() - started) / 2);
  const { good } = await store.readBackups();
  expect(good).toMatchObject({ trouble: null, readings: expect.any(Number) });
  for (let n = 0; n < 20; n += 1) await one();
  await makePeople(store, ["curator"]);

  const refused = await command("restore", good?.file ?? "");
  expect(refused).toMatchObject({ code: 1, said: expect.stringContaining("in use: stop Homewater first") });
  expect(await store.readingsAt([{ stream: parts.temperature, at }])).toEqual([Math.cos(at)]);
  await store.close();
  await writeFile(file, "a disk that has lost its mind");

  const began = performance.now();
  const restored = await command("restore", good?.file ?? "");
  const took = performance.now() - began;
  expect(restored.said).toMatch(
    /restored homewater-.*readings.*It holds everything up to .*What came in during .* since is missing.*kept as .*before-restore/s,
  );
  expect(restored.code).toBe(0);
  expect(took).toBeLessThan(30 * MINUTE);
  const again = await openSqlite({ file, migrate: false });
  const moments = [...before.keys()].map((instant) => ({ stream: parts.temperature, at: instant }));
  expect(await again.readingsAt(moments)).toEqual([...before.values()]);
  const { counts } = await again.status();
  expect(counts.readings).toBe(good?.readings);
  const all = await again.readingsBetween(
    [parts.temperature],
    0,
    Number.MAX_SAFE_INTEGER,
    Number.MAX_SAFE_INTEGER,
  );
  for (const reading of all)
    if (reading.at > T + STREAM_READINGS * 1_000) expect(reading.value).toBe(acknowledged.get(reading.at));
  // What is sent again goes in: nothing is "already seen" that is not there.
  const lost = [...acknowledged.keys()].filter((instant) => !all.some((reading) => reading.at === instant));
  expect(lost.length).toBeGreaterThan(0);
  const { fates } = await again.append({
    now: Date.now(),
    rejected: [],
    unclaimed: [],
    readings: lost.map((instant) => parts.reading(instant, acknowledged.get(instant) ?? 0)),
  });
  expect(new Set(fates)).toEqual(new Set(["stored"]));
  expect((await again.readAudit({ limit: 1 }))[0]).toMatchObject({ verb: "restore" });
  await again.close();
  console.info(`restored in ${(took / 1_000).toFixed(1)} s`);
}, 180_000);

test("backups are rotated, what a killed one left is removed, and a damaged one is not restored", async () => {
  const store = await openSqlite({ file, migrate: true });
  await fill(store);
  await store.close();
  for (let n = 0; n < 3; n += 1) {
    expect((await command("backup")).code).toBe(0);
    if (n === 1) await writeFile(join(folder, "backups", "homewater-20250101T000000Z.db.partial"), "half");
    await new Promise((resolve) => setTimeout(resolve, 1_100));
  }
  const names = readdirSync(join(folder, "backups"));
  expect(names).toHaveLength(2);
  const out: string[] = [];
  const restore = (path: string) => {
    out.length = 0;
    return runRestore([path], {
      environment: environment(),
      clock: Date.now,
      user: "t",
      out: (line) => out.push(line),
      complain: (line) => out.push(line),
    });
  };
  const damaged = join(folder, "damaged.db");
  await copyFile(join(folder, "backups", names[0] ?? ""), damaged);
  const handle = await open(damaged, "r+");
  for (let page = 20; page < 60; page += 1)
    await handle.write(Buffer.alloc(4_096, 0xff), 0, 4_096, page * 4_096);
  await handle.close();
  expect(await restore(damaged)).toBe(1);
  expect(out.join(" ")).toMatch(/damaged|is not a (Homewater )?database|did not answer/);
  expect(await restore(join(folder, "none.db"))).toBe(1);
  expect(out.join(" ")).toContain("cannot be read");
  const kept = await openSqlite({ file, migrate: false });
  expect((await kept.status()).counts.readings).toBe(STREAM_READINGS);
  await kept.close();
  expect(existsSync(`${file}.restoring`)).toBe(false);
}, 180_000);

test("the schedule makes one when it is due, not before, and remembers one that took too long", async () => {
  const store = await openSqlite({ file, migrate: true });
  await withParts(store);
  const log = pino({ level: "silent" });
  const saved = { data: process.env.HOMEWATER_DATA };
  process.env.HOMEWATER_DATA = folder;
  let now = Date.now();
  const schedule = keepBackups({
    store,
    clock: () => now,
    log,
    minutes: 15,
    deadlineMinutes: 5,
    lookEvery: 50,
  });
  try {
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect((await store.readBackups()).last).toBeNull();
    now += 15 * MINUTE;
    await expect
      .poll(async () => (await store.readBackups()).last?.trouble, { timeout: 60_000, interval: 200 })
      .toBeNull();
    await schedule.stop();
    const slow = keepBackups({
      store,
      clock: () => now + 60 * MINUTE,
      log,
      minutes: 15,
      deadlineMinutes: 0.001,
      lookEvery: 50,
    });
    await expect
      .poll(async () => (await store.readBackups()).last?.trouble, { timeout: 60_000, interval: 200 })
      .toMatch(/ended after/);
    await slow.stop();
    expect((await store.readBackups()).good).toMatchObject({ trouble: null });
  } finally {
    if (saved.data === undefined) delete process.env.HOMEWATER_DATA;
    else process.env.HOMEWATER_DATA = saved.data;
    await store.close();
  }
}, 180_000);
