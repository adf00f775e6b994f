/** The same with parts of another's: PostgreSQL as the store, and a broker that is not ours. Only our processes are killed. */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import pg from "pg";
import { afterEach, beforeAll, describe, expect, it } from "vitest";
import { startExternalBroker } from "../helpers/external-broker.ts";
import { firstDifference } from "../helpers/first-difference.ts";
import { type TemporaryPostgres, temporaryPostgres, temporaryStore } from "../helpers/open-store.ts";
import { postgresMissing } from "../helpers/postgres-server.ts";
import { createProcessTree } from "../helpers/process-tree.ts";
import { needPart } from "../helpers/system-parts.ts";
import { until } from "../ingest/accept-parts.ts";
import { everythingJudged, killsOr, seeded, seedOfRun } from "./home.ts";
import { replayThroughKills } from "./replay-through-kills.ts";
import { INTERVAL_MS, sondeRecord } from "./sonde-record.ts";
import { setUpSondes } from "./sonde-site.ts";
import { claimsUndisturbed } from "./undisturbed.ts";

const record = sondeRecord(1_200);
const seed = seedOfRun();
const closers: (() => Promise<unknown>)[] = [];
let undisturbed: unknown;
beforeAll(async () => {
  undisturbed = await claimsUndisturbed(record);
}, 120_000);
afterEach(async () => {
  for (const close of closers.splice(0).reverse()) await close();
});

function processTree() {
  const tree = createProcessTree();
  closers.push(() => tree.killAll());
  return tree;
}
async function folderOfTest(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), "homewater-faults-"));
  closers.push(() => rm(folder, { recursive: true, force: true }));
  return folder;
}

describe("a replay through an external broker", () => {
  it("loses nothing and doubles nothing where our processes are killed", {
    timeout: 180_000 + killsOr(2) * 60_000,
  }, async (context) => {
    const program = needPart(context, "mosquitto");
    const broker = await startExternalBroker(program);
    closers.push(() => broker.close());
    const tree = processTree();
    const opened = await temporaryStore();
    closers.push(() => opened.dispose());
    const claims = await replayThroughKills({
      name: "killed behind an external broker",
      tree,
      store: opened.store,
      settings: { HOMEWATER_DATABASE_URL: `file:${opened.file}`, HOMEWATER_MQTT_URL: broker.url },
      folder: await folderOfTest(),
      record,
      kills: killsOr(2),
      seed,
      random: seeded(seed),
      broker: broker.url,
    });
    expect(firstDifference(claims, undisturbed)).toBeNull();
  });
});

const missing = await postgresMissing();

describe("on PostgreSQL", () => {
  const opened = async (): Promise<TemporaryPostgres> => {
    const postgres = await temporaryPostgres();
    closers.push(() => postgres.dispose());
    return postgres;
  };

  it("a replay through killed processes claims the same as on the embedded store", {
    timeout: 180_000 + killsOr(2) * 60_000,
  }, async (context) => {
    if (missing !== null) context.skip(missing);
    const postgres = await opened();
    const claims = await replayThroughKills({
      name: "killed over PostgreSQL",
      tree: processTree(),
      store: postgres.store,
      settings: { HOMEWATER_DATABASE_URL: postgres.url },
      folder: await folderOfTest(),
      record,
      kills: killsOr(2),
      seed,
      random: seeded(seed),
      broker: null,
    });
    expect(firstDifference(claims, undisturbed)).toBeNull();
  });

  it("the evaluator outlives a database that is away for a while", { timeout: 120_000 }, async (context) => {
    if (missing !== null) context.skip(missing);
    const { store, url, server } = await opened();
    const streams = await setUpSondes(store, { now: Date.now(), intervalMs: INTERVAL_MS, critical: false });
    const source = await store.ensureSource("gateway", "gateway");
    const [stream] = streams.values();
    const append = (value: number) =>
      store.append({
        now: Date.now(),
        readings: [
          { stream: stream ?? 0, at: Date.now(), value, source: source.id, sequence: null, mark: null },
        ],
        rejected: [],
        unclaimed: [],
      });
    const evaluating = await processTree().launch("ingest/evaluate/main.ts", {
      env: { HOMEWATER_DATABASE_URL: url },
      saysReady: true,
    });
    await append(15);
    await everythingJudged(store, 30_000);
    const name = new URL(url).pathname.slice(1);
    const admin = new pg.Client({ connectionString: await server.createDatabase() });
    await admin.connect();
    closers.push(() => admin.end());
    await admin.query(`alter database ${name} allow_connections false`);
    await admin.query("select pg_terminate_backend(pid) from pg_stat_activity where datname = $1", [name]);
    // Long enough for several attempts, each a second apart.
    await until(() => evaluating.errors().split("did not answer").length > 3, "it has tried again", 30_000);
    await admin.query(`alter database ${name} allow_connections true`);
    await append(15.1);
    await everythingJudged(store, 30_000);
    expect(await evaluating.stop()).toBe(0);
  });
});
