/** The one story of these tests: a recorded file is replayed while the processes it goes through are killed. */
import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect } from "vitest";
import type { Store } from "#store/port.ts";
import { claimsOf } from "../helpers/evaluated.ts";
import type { Launched, ProcessTree } from "../helpers/process-tree.ts";
import { until } from "../ingest/accept-parts.ts";
import {
  API_TOKEN,
  createHome,
  everythingJudged,
  type Home,
  LOGIN,
  letLeaseRunOut,
  startHealth,
} from "./home.ts";
import { INTERVAL_MS, type SondeRecord } from "./sonde-record.ts";
import { QUANTITIES, SITE, SYSTEMS, setUpSondes } from "./sonde-site.ts";

export interface Story {
  readonly name: string;
  readonly tree: ProcessTree;
  /** Migrated and empty; the processes open the same one by `settings`. */
  readonly store: Store;
  readonly settings: Readonly<Record<string, string>>;
  /** A folder of the test's own. */
  readonly folder: string;
  readonly record: SondeRecord;
  readonly kills: number;
  readonly seed: number;
  readonly random: () => number;
  /** An external broker; null: the embedded one. */
  readonly broker: string | null;
}

const FOREVER = Number.MAX_SAFE_INTEGER;
const SETTLED_WITHIN_MS = 120_000;

/** Plays the story, asserts that each reading is stored exactly once, and gives what is claimed of the water in the end. */
export async function replayThroughKills(story: Story): Promise<unknown> {
  const { store, record, tree } = story;
  console.info(`${story.name}: seed ${story.seed}`);
  const streams = await setUpSondes(store, { now: Date.now(), intervalMs: INTERVAL_MS, critical: false });
  const file = join(story.folder, "sondes.csv");
  await writeFile(file, record.csv);
  const health = await startHealth(store);
  const home = createHome(tree, story.settings);
  try {
    await home.start();
    const replay = () => startReplay(story, home, file, health.url);
    const killing = await killDuring(story, home, replay);
    const { replays, acknowledged } = killing;
    await finished(killing.running);
    await storedAll(story);
    const first = await store.status();
    // Once more from the beginning: everything is known already.
    const again = await replay();
    await finished(again);
    expect(again.output()).toContain(`${record.cells.length.toLocaleString("en-GB")} cells sent`);
    await until(
      async () => (await store.status()).counts.duplicates >= first.counts.duplicates + record.cells.length,
      "every repeat is counted",
      SETTLED_WITHIN_MS,
    );
    const second = await store.status();
    const repeats = first.counts.duplicates + record.cells.length;
    expect(second.counts).toEqual({
      readings: record.cells.length,
      // An external broker may still be handing over what replays sent twice before.
      duplicates: story.broker === null ? repeats : expect.toSatisfy((count: number) => count >= repeats),
      conflicts: 0,
      rejected: 0,
      unclaimed: 0,
    });
    if (story.broker === null)
      expect(again.output()).toContain(
        `accepted 0, duplicate ${record.cells.length.toLocaleString("en-GB")}, conflicting 0`,
      );
    await everythingJudged(store, SETTLED_WITHIN_MS);
    await home.stop();
    await eachStoredOnce(store, streams, record);
    console.info(
      `${story.name}: ${story.kills} kills, ${replays} replays begun, ` +
        `${acknowledged} acknowledged at the kills, ${record.cells.length} sent, ${second.counts.readings} stored, ` +
        `${second.counts.duplicates} duplicates (${record.cells.length} of them by the second replay)`,
    );
    return await claimsOf(store);
  } finally {
    await tree.killAll();
    await health.close();
  }
}

interface Killing {
  readonly running: Launched;
  readonly replays: number;
  /** What senders were told is stored, at each kill. */
  readonly acknowledged: string;
}

/** Kills at moments spread over the file; in every second round the replay dies with the rest and begins again from the start. */
async function killDuring(story: Story, home: Home, replay: () => Promise<Launched>): Promise<Killing> {
  const { store, kills, random, record } = story;
  const acknowledged: string[] = [];
  let running = await replay();
  let replays = 1;
  for (let kill = 0; kill < kills; kill++) {
    const share = (kill + 0.1 + 0.8 * random()) / kills;
    const enough = Math.floor(share * record.cells.length);
    const ended = { now: false };
    void running.ended.then(() => {
      ended.now = true;
    });
    await until(
      async () => ended.now || (await store.status()).counts.readings >= enough,
      `${enough} readings are stored`,
      SETTLED_WITHIN_MS,
    );
    const isReplayKilled = kill % 2 === 1;
    await Promise.all([home.kill(), ...(isReplayKilled ? [running.kill()] : [])]);
    const { counts, journal, cursor } = await store.status();
    const told = toldAcknowledged(running);
    acknowledged.push(
      `${told} of ${counts.readings} stored${isReplayKilled ? " (with the replay)" : ""}, ` +
        `${(journal?.seq ?? 0) - (cursor?.seq ?? 0)} commits not judged`,
    );
    // An external broker acknowledges for itself and keeps what we have not taken.
    if (story.broker === null)
      expect(counts.readings + counts.duplicates, "acknowledged readings are stored").toBeGreaterThanOrEqual(
        told,
      );
    await letLeaseRunOut(store);
    await home.start();
    if (!isReplayKilled) continue;
    running = await replay();
    replays += 1;
  }
  return { running, replays, acknowledged: acknowledged.length > 0 ? acknowledged.join("; ") : "none" };
}

function startReplay(
  { tree, broker, folder }: Story,
  home: Home,
  file: string,
  http: string,
): Promise<Launched> {
  const units: Readonly<Record<string, string>> = { temperature: ":Cel", conductivity: ":mS/cm" };
  const maps = SYSTEMS.flatMap((system) =>
    QUANTITIES.flatMap((q) => ["--map", `${system} ${q}=${system}/display/${q}${units[q] ?? ""}`]),
  );
  const args = [file, "--time", "t", ...maps, "--site", SITE, "--keep-times", "--speed", "max"];
  const where = ["--url", broker ?? `mqtt://127.0.0.1:${home.port()}`, "--http", http];
  return tree.launch("ingest/commands/replay.ts", {
    args: [...args, ...where, "--user", LOGIN.user, "--password", LOGIN.password],
    env: { HOMEWATER_DATA: folder, HOMEWATER_API_TOKEN: API_TOKEN },
    saysReady: false,
  });
}

async function finished(replay: Launched): Promise<void> {
  const { code, signal } = await replay.ended;
  if (code !== 0)
    throw new Error(`the replay ended with ${code ?? signal}:\n${replay.errors().slice(-2_000)}`);
}

/** The replay's own word, a second old at most: cells sent less those it waits for. */
function toldAcknowledged(replay: Launched): number {
  const said = [...replay.errors().matchAll(/([\d,]+) cells sent, ([\d,]+) not yet acknowledged/g)].at(-1);
  if (!said) return 0;
  const [sent, waiting] = said.slice(1).map((text) => Number(text.replaceAll(",", ""))) as [number, number];
  return sent - waiting;
}

/** With the embedded broker this holds when the replay ends; an external one may still hand over what it kept for us. */
async function storedAll({ store, record, broker }: Story): Promise<void> {
  const { counts } = await store.status();
  if (broker === null) expect(counts.readings).toBe(record.cells.length);
  else
    await until(
      async () => (await store.status()).counts.readings >= record.cells.length,
      "the broker has handed over what it kept",
      SETTLED_WITHIN_MS,
    );
}

async function eachStoredOnce(
  store: Store,
  streams: ReadonlyMap<string, number>,
  record: SondeRecord,
): Promise<void> {
  for (const [name, stream] of streams) {
    const wanted = record.cells
      .filter((cell) => `${cell.system} ${cell.quantity}` === name)
      .map(({ at, value }) => [at, value]);
    const stored = await store.readingsBetween([stream], 0, FOREVER, FOREVER);
    expect(stored.map(({ at, value }) => [at, value])).toEqual(wanted);
  }
}
