/** Both parts another's at once: PostgreSQL as the store and an external broker, our processes killed. The other three pairs stand in tests/faults. */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, expect, it } from "vitest";
import { killsOr, seeded, seedOfRun } from "../faults/home.ts";
import { replayThroughKills } from "../faults/replay-through-kills.ts";
import { sondeRecord } from "../faults/sonde-record.ts";
import { claimsUndisturbed } from "../faults/undisturbed.ts";
import { startExternalBroker } from "../helpers/external-broker.ts";
import { firstDifference } from "../helpers/first-difference.ts";
import { temporaryPostgres } from "../helpers/open-store.ts";
import { postgresMissing } from "../helpers/postgres-server.ts";
import { createProcessTree } from "../helpers/process-tree.ts";
import { needPart } from "../helpers/system-parts.ts";

const closers: (() => Promise<unknown>)[] = [];
afterEach(async () => {
  for (const close of closers.splice(0).reverse()) await close();
});
const missing = await postgresMissing();

it("a replay through an external broker to PostgreSQL loses nothing, doubles nothing and claims the same", {
  timeout: 300_000 + killsOr(2) * 60_000,
}, async (context) => {
  if (missing !== null) context.skip(missing);
  const broker = await startExternalBroker(needPart(context, "mosquitto"));
  closers.push(() => broker.close());
  const postgres = await temporaryPostgres();
  closers.push(() => postgres.dispose());
  const tree = createProcessTree();
  closers.push(() => tree.killAll());
  const folder = await mkdtemp(join(tmpdir(), "homewater-soak-"));
  closers.push(() => rm(folder, { recursive: true, force: true }));
  const record = sondeRecord(1_200);
  const seed = seedOfRun();
  const claims = await replayThroughKills({
    name: "killed behind an external broker, over PostgreSQL",
    tree,
    store: postgres.store,
    settings: { HOMEWATER_DATABASE_URL: postgres.url, HOMEWATER_MQTT_URL: broker.url },
    folder,
    record,
    kills: killsOr(2),
    seed,
    random: seeded(seed),
    broker: broker.url,
  });
  expect(firstDifference(claims, await claimsUndisturbed(record))).toBeNull();
});
