/** The drill on PostgreSQL, with a server and the tools that come with it: the schedule makes a dump, the database is lost, one command restores it. */
import { existsSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { delimiter, join } from "node:path";
import { pino } from "pino";
import { afterAll, afterEach, beforeAll, beforeEach, expect, it, vi } from "vitest";
import { MINUTE } from "#core/time/instant.ts";
import { runRestore } from "#ingest/backup/run.ts";
import { keepBackups } from "#ingest/backup/schedule.ts";
import type { Store } from "#store/port.ts";
import { openPostgres } from "#store/postgres/open.ts";
import { openPool } from "#store/postgres/pool.ts";
import { startMachinePostgres } from "../helpers/machine-postgres.ts";
import { describeWith } from "../helpers/system-parts.ts";
import { evaluator, type Parts, T, withParts } from "../store/contract/subject.ts";

/** Readings over fourteen months: each month of them is a partition of its own. */
const READINGS = 3_000;
const STEP = 204 * MINUTE;
const FOREVER = Number.MAX_SAFE_INTEGER;

const levelOf = (n: number) => 12 + Math.round(Math.sin(n) * 1_000) / 1_000;

describeWith("postgresql", "backups of a PostgreSQL server by its own tools", (bin) => {
  let server: Awaited<ReturnType<typeof startMachinePostgres>>;
  let folder: string;
  const closers: (() => Promise<unknown>)[] = [];
  beforeAll(async () => {
    server = await startMachinePostgres(bin);
  });
  afterAll(async () => {
    await server.stop();
  });
  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), "homewater-drill-"));
    closers.push(() => rm(folder, { recursive: true, force: true }));
  });
  afterEach(async () => {
    for (const close of closers.splice(0).reverse()) await close();
  });

  async function opened(): Promise<{ store: Store; url: string }> {
    const url = await server.createDatabase();
    const store = await openPostgres({ url, migrate: true });
    closers.push(() => store.close());
    vi.stubEnv("HOMEWATER_DATA", folder);
    vi.stubEnv("HOMEWATER_DATABASE_URL", url);
    return { store, url };
  }

  /** The schedule of the accepting process with a backup due at once; resolves when one has been tried. */
  async function dueNow(store: Store): Promise<void> {
    const started = Date.now();
    let now = started;
    const log = pino({ level: "silent" });
    const schedule = keepBackups({
      store,
      clock: () => now,
      log,
      minutes: 15,
      deadlineMinutes: 5,
      lookEvery: 50,
    });
    now = started + 15 * MINUTE;
    await expect
      .poll(async () => (await store.readBackups()).last, { timeout: 60_000, interval: 100 })
      .not.toBeNull();
    await schedule.stop();
  }

  async function restored(file: string): Promise<{ code: number; said: string }> {
    const out: string[] = [];
    const say = (line: string) => void out.push(line);
    const around = { environment: process.env, clock: Date.now, user: "t", out: say, complain: say };
    return { code: await runRestore([file], around), said: out.join("\n") };
  }

  async function fill(parts: Parts): Promise<void> {
    const { store, temperature, derived, append, reading } = parts;
    for (let start = 0; start < READINGS; start += 1_000)
      await append(
        Array.from({ length: 1_000 }, (_, n) => reading(T + (start + n) * STEP, levelOf(start + n))),
        T + (start + 1_000) * STEP,
      );
    const commit = await evaluator(store);
    await commit({
      derived: [{ stream: derived, at: T, value: 0.5, low: null, high: 1, formula: "Bates et al. 1949" }],
      checkpoints: [{ system: "system-kelp", at: T, state: '{"streams":[]}' }],
      flags: [{ stream: temperature, at: T, flag: 3, reasons: ["conflict"] }],
    });
  }

  it("hold what was acknowledged before, are restored whole into an empty database, and what came since goes in again", async () => {
    vi.stubEnv("PATH", `${bin}${delimiter}${process.env.PATH ?? ""}`);
    const { store } = await opened();
    const parts = await withParts(store);
    await fill(parts);
    let isRunning = true;
    const backup = dueNow(store).finally(() => {
      isRunning = false;
    });
    // Acknowledging goes on beside it.
    const during: number[] = [];
    while (isRunning) {
      const at = T + (READINGS + during.length) * STEP;
      await parts.append([parts.reading(at, during.length)], Date.now());
      during.push(at);
      await new Promise((resolve) => setTimeout(resolve, 5));
    }
    await backup;
    const { good } = await store.readBackups();
    expect(good).toMatchObject({ trouble: null });
    expect(good?.readings).toBeGreaterThanOrEqual(READINGS);
    expect(good?.file.startsWith(join(folder, "backups")) && good.file.endsWith(".dump")).toBe(true);
    const file = good?.file ?? "";
    expect(existsSync(file)).toBe(true);

    // Into the database that is there nothing is restored; into a new one everything is.
    const refused = await restored(file);
    expect(refused).toMatchObject({ code: 1, said: expect.stringContaining("is not empty") });
    const url = await server.createDatabase();
    vi.stubEnv("HOMEWATER_DATABASE_URL", url);
    const done = await restored(file);
    expect(done.said).toMatch(/^restored homewater-.*readings.*It holds everything up to .* is missing/s);
    expect(done.code).toBe(0);

    const again = await openPostgres({ url, migrate: false });
    closers.push(() => again.close());
    const all = await again.readingsBetween([parts.temperature], 0, FOREVER, FOREVER);
    expect(all.length).toBe((await again.status()).counts.readings);
    expect(all.length).toBeGreaterThanOrEqual(good?.readings ?? FOREVER);
    for (const [n, { at, value }] of all.entries())
      expect([at, value]).toEqual([T + n * STEP, n < READINGS ? levelOf(n) : n - READINGS]);
    const { derived, temperature } = parts;
    expect(await again.readDerived(derived, 0, FOREVER, 9)).toMatchObject([{ formula: "Bates et al. 1949" }]);
    expect(await again.checkpointAtOrBefore("system-kelp", T)).toMatchObject({ state: '{"streams":[]}' });
    expect(await again.readFlags(temperature, 0, FOREVER, 9)).toMatchObject([{ reasons: ["conflict"] }]);
    const lost = during.slice(all.length - READINGS);
    const { fates } = await again.append({
      now: Date.now(),
      rejected: [],
      unclaimed: [],
      readings: lost.map((at) => parts.reading(at, during.indexOf(at))),
    });
    expect(new Set(fates)).toEqual(new Set(lost.length > 0 ? ["stored"] : []));
    // Numbers are given out behind those that are taken, and facts are as safe as before.
    expect((await again.ensureSource("gateway-2", "gateway")).id).not.toBe(parts.source);
    const pool = openPool(url, 1);
    closers.push(() => pool.end());
    await expect(pool.query("update reading set value = 0")).rejects.toThrow(/never change/);
  });

  it("that cannot be made are remembered with the reason, and leave no file", async () => {
    const { store } = await opened();
    vi.stubEnv("PATH", folder);
    await dueNow(store);
    const { last, good } = await store.readBackups();
    expect(good).toBeNull();
    expect(last?.trouble).toMatch(/^pg_dump is not installed.*client tools/);
    expect(existsSync(last?.file ?? "")).toBe(false);
  });
});
