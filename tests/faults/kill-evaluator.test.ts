/** The evaluator alone is killed while it judges again what an import of a month has changed. */
import { afterEach, expect, it } from "vitest";
import type { NewReading, Store } from "#store/port.ts";
import { claimsOf, evaluateAll, evaluatorOf } from "../helpers/evaluated.ts";
import { firstDifference } from "../helpers/first-difference.ts";
import { temporaryStore } from "../helpers/open-store.ts";
import { createProcessTree } from "../helpers/process-tree.ts";
import { until } from "../ingest/accept-parts.ts";
import { everythingJudged, killsOr, letLeaseRunOut, seeded, seedOfRun } from "./home.ts";
import { type Cell, INTERVAL_MS, sondeRecord } from "./sonde-record.ts";
import { setUpSondes } from "./sonde-site.ts";

/** Over fifty thousand cells; the last day of them is there before the rest. */
const record = sondeRecord(4_500);
const DAY = 86_400_000;
const PORTION = 2_000;

const closers: (() => Promise<unknown>)[] = [];
afterEach(async () => {
  for (const close of closers.splice(0).reverse()) await close();
});

async function opened() {
  const temporary = await temporaryStore();
  closers.push(() => temporary.dispose());
  const streams = await setUpSondes(temporary.store, {
    now: Date.now(),
    intervalMs: INTERVAL_MS,
    critical: false,
  });
  return { ...temporary, streams };
}
const last = record.cells.at(-1)?.at ?? 0;
const recent = record.cells.filter((cell) => cell.at > last - DAY);
const before = record.cells.filter((cell) => cell.at <= last - DAY);

async function append(
  store: Store,
  streams: ReadonlyMap<string, number>,
  source: number,
  cells: readonly Cell[],
): Promise<void> {
  for (let start = 0; start < cells.length; start += PORTION) {
    const readings = cells.slice(start, start + PORTION).map(
      ({ system, quantity, at, value }): NewReading => ({
        stream: streams.get(`${system} ${quantity}`) ?? 0,
        at,
        value,
        source,
        sequence: null,
        mark: null,
      }),
    );
    await store.append({ now: Date.now(), readings, rejected: [], unclaimed: [] });
  }
}

/** All of it at once, in order of time. */
async function claimsUndisturbed(): Promise<unknown> {
  const { store, streams } = await opened();
  const { id } = await store.ensureSource("import", "import");
  await append(store, streams, id, record.cells);
  await evaluateAll(await evaluatorOf(store));
  return await claimsOf(store);
}

it("killed in the middle of fifty thousand late readings, it goes on and claims what it would have claimed", {
  timeout: 180_000 + killsOr(3) * 60_000,
}, async () => {
  const seed = seedOfRun();
  console.info(`the evaluator alone: seed ${seed}`);
  const random = seeded(seed);
  const kills = killsOr(3);
  const { store, file, streams } = await opened();
  const tree = createProcessTree();
  closers.push(() => tree.killAll());
  const start = () =>
    tree.launch("ingest/evaluate/main.ts", {
      env: { HOMEWATER_DATABASE_URL: `file:${file}` },
      saysReady: true,
    });
  const { id } = await store.ensureSource("import", "import");
  await append(store, streams, id, recent);
  let evaluator = await start();
  await everythingJudged(store, 60_000);
  await append(store, streams, id, before);
  /** Site days judged so far: how far the work has come. */
  const daysJudged = async () =>
    (await store.readRollups({ streams: [...streams.values()], from: 0, to: last, width: DAY })).length;
  const all = Math.floor(((last - (record.cells[0]?.at ?? 0)) / DAY) * streams.size);
  const atKills: string[] = [];
  for (let kill = 0; kill < kills; kill++) {
    const enough = Math.floor(all * ((kill + 0.1 + 0.8 * random()) / kills) * 0.9);
    await until(async () => (await daysJudged()) >= enough, `${enough} days are judged`, 90_000);
    await evaluator.kill();
    const { rejudging } = await store.status();
    expect(rejudging.length, "it was killed before it was done").toBeGreaterThan(0);
    atKills.push(`${await daysJudged()} of ${all} days judged, ${rejudging.length} systems rejudging`);
    // Once the lease is left to run out by itself, as it is where nobody helps.
    if (kill > 0) await letLeaseRunOut(store);
    evaluator = await start();
  }
  await everythingJudged(store, 120_000);
  expect(await evaluator.stop()).toBe(0);
  const { counts } = await store.status();
  expect(counts.readings).toBe(record.cells.length);
  expect(firstDifference(await claimsOf(store), await claimsUndisturbed())).toBeNull();
  console.info(
    `the evaluator alone: ${kills} kills (${atKills.join("; ")}), ${counts.readings} stored, ${before.length} of them late`,
  );
});
