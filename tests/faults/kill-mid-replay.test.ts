import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeAll, describe, expect, it } from "vitest";
import { firstDifference } from "../helpers/first-difference.ts";
import { temporaryStore } from "../helpers/open-store.ts";
import { createProcessTree } from "../helpers/process-tree.ts";
import { killsOr, seeded, seedOfRun } from "./home.ts";
import { replayThroughKills } from "./replay-through-kills.ts";
import { sondeRecord } from "./sonde-record.ts";
import { SYSTEMS } from "./sonde-site.ts";
import { claimsInOtherBatches, claimsUndisturbed } from "./undisturbed.ts";

const record = sondeRecord(2_400);
const seed = seedOfRun();
const closers: (() => Promise<unknown>)[] = [];
let undisturbed: unknown;
beforeAll(async () => {
  undisturbed = await claimsUndisturbed(record);
}, 120_000);
afterEach(async () => {
  for (const close of closers.splice(0).reverse()) await close();
});

/** Replays with so many kills through real processes over a SQLite file. */
async function claimsAfter(kills: number): Promise<unknown> {
  const tree = createProcessTree();
  closers.push(() => tree.killAll());
  const opened = await temporaryStore();
  closers.push(() => opened.dispose());
  const folder = await mkdtemp(join(tmpdir(), "homewater-faults-"));
  closers.push(() => rm(folder, { recursive: true, force: true }));
  return await replayThroughKills({
    name: kills > 0 ? "killed in the middle of a replay" : "an undisturbed replay",
    tree,
    store: opened.store,
    settings: { HOMEWATER_DATABASE_URL: `file:${opened.file}` },
    folder,
    record,
    kills,
    seed,
    random: seeded(seed),
    broker: null,
  });
}

describe("a replay of a recorded file", () => {
  it("has something to claim: values out of range, findings of band and rate, derived values, days of 25 hours", () => {
    const text = JSON.stringify(undisturbed);
    // British summer time ended on 26 October 2025 at 01:00 UTC (Summer Time Order 2002, S.I. 2002/262): that day began at 23:00 UTC.
    const days = [Date.UTC(2025, 9, 25, 23), Date.UTC(2025, 9, 27)].map((start) => `"start":${start}`);
    const wanted = ["out of band", "too fast", "formula", "out_of_sensor_span", ...SYSTEMS].map(
      (word) => `"${word}`,
    );
    expect([...wanted, ...days].filter((word) => !text.includes(word))).toEqual([]);
  });

  it("through processes that nobody disturbs stores each reading once, and a second replay adds nothing", {
    timeout: 180_000,
  }, async () => {
    expect(firstDifference(await claimsAfter(0), undisturbed)).toBeNull();
  });

  it("through processes that are killed and started again loses nothing, doubles nothing and claims the same", {
    timeout: 180_000 + killsOr(3) * 60_000,
  }, async () => {
    expect(firstDifference(await claimsAfter(killsOr(3)), undisturbed)).toBeNull();
  });

  it("claims the same in other batches and in another order", { timeout: 180_000 }, async () => {
    expect(firstDifference(await claimsInOtherBatches(record, seeded(seed)), undisturbed)).toBeNull();
  });
});
