/**
 * A disk that is full: nothing is acknowledged, the status says why, and it goes on by itself when there is room again. On a small file system
 * of its own in memory where this user may mount one (root on Linux); elsewhere a limit on the file stands in for it, and the test says so.
 */
import { spawnSync } from "node:child_process";
import { closeSync, openSync, statSync, writeSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import mqtt from "mqtt";
import { afterEach, expect, it } from "vitest";
import { startEmbeddedBroker } from "#ingest/accept/embedded-broker.ts";
import { createAcceptor } from "#services/gateway/accept-message.ts";
import { startAppendThread } from "#store/sqlite/append-thread.ts";
import { openSqlite } from "#store/sqlite/open.ts";
import { createProcessTree } from "../helpers/process-tree.ts";
import { keptLog, readingsAt, SITE, setUpKelpGallery, topicOf, until } from "../ingest/accept-parts.ts";
import { LOGIN } from "./home.ts";

const closers: (() => Promise<unknown>)[] = [];
afterEach(async () => {
  for (const close of closers.splice(0).reverse()) await close();
});

/** A folder on a file system of eight megabytes; null where this user may not have one. */
async function smallDisk(): Promise<string | null> {
  const folder = await mkdtemp(join(tmpdir(), "homewater-disk-"));
  closers.push(() => rm(folder, { recursive: true, force: true }));
  const mounted = spawnSync("mount", ["-t", "tmpfs", "-o", "size=8m", "tmpfs", folder]);
  if (mounted.status !== 0) return null;
  closers.push(async () => spawnSync("umount", ["-l", folder]));
  return folder;
}

/** Writes until there is no room for one more byte. */
function fillUp(file: string): void {
  const descriptor = openSync(file, "w");
  try {
    for (let size = 65_536; size >= 1; size = Math.floor(size / 4))
      for (;;) {
        try {
          writeSync(descriptor, Buffer.alloc(size));
        } catch (error) {
          if (error instanceof Error && "code" in error && error.code === "ENOSPC") break;
          throw error;
        }
      }
  } finally {
    closeSync(descriptor);
  }
}

async function publisherAt(port: number) {
  const client = await mqtt.connectAsync(`mqtt://127.0.0.1:${port}`, {
    username: LOGIN.user,
    password: LOGIN.password,
    clientId: "publisher",
    reconnectPeriod: 100,
  });
  client.on("error", () => {
    // Connections end while nothing can be stored: what counts is what is acknowledged.
  });
  closers.push(() => client.endAsync(true));
  const start = Date.now() - 3_600_000;
  const acknowledged = new Set<number>();
  return {
    acknowledged,
    publish(from: number, to: number) {
      for (let n = from; n < to; n += 1)
        client.publish(
          topicOf("temperature"),
          JSON.stringify({ at: start + n * 100, value: n / 100 }),
          { qos: 1 },
          (error) => {
            if (!error) acknowledged.add(n);
          },
        );
    },
  };
}

it("a full disk stops acknowledging, is said in the status, and is got over when there is room", {
  timeout: 120_000,
}, async () => {
  const disk = await smallDisk();
  const folder = disk ?? (await mkdtemp(join(tmpdir(), "homewater-disk-")));
  const file = join(folder, "homewater.db");
  const seen = await openSqlite({ file, migrate: true });
  closers.push(() => seen.close());
  await setUpKelpGallery(seen, Date.now());
  const tree = createProcessTree();
  closers.push(() => tree.killAll());
  if (disk === null) {
    console.info("full disk: no file system of our own may be mounted here; max_page_count stands in");
    const size = statSync(file).size + 400_000;
    const limited = await openSqlite({
      file,
      migrate: false,
      maxBytes: size,
      appendThread: startAppendThread,
    });
    const acceptor = createAcceptor({ store: limited, clock: Date.now });
    const broker = await startEmbeddedBroker({
      acceptor,
      log: keptLog().log,
      host: "127.0.0.1",
      port: 0,
      publisher: LOGIN,
    });
    closers.push(async () => {
      await broker.close();
      await limited.close();
    });
    const { acknowledged, publish } = await publisherAt(broker.port);
    publish(0, 60_000);
    await until(() => acceptor.counts().trouble !== null, "the store is full", 60_000);
    const told = acknowledged.size;
    expect(told).toBeLessThan(60_000);
    expect(acceptor.counts().trouble).toContain("is full");
    expect((await readingsAt(seen, "temperature")).length).toBeGreaterThanOrEqual(told);
    return;
  }
  const accepting = await tree.launch("ingest/accept/main.ts", {
    env: {
      HOMEWATER_DATABASE_URL: `file:${file}`,
      HOMEWATER_MQTT_PORT: "0",
      HOMEWATER_MQTT_USER: LOGIN.user,
      HOMEWATER_MQTT_PASSWORD: LOGIN.password,
    },
    saysReady: true,
  });
  const port = accepting.said.port as number;
  const ballast = join(folder, "ballast");
  const states: string[] = [];
  const listener = await mqtt.connectAsync(`mqtt://127.0.0.1:${port}`, {
    username: LOGIN.user,
    password: LOGIN.password,
    reconnectPeriod: 100,
  });
  closers.push(() => listener.endAsync(true));
  listener.on("message", (_topic, payload) => states.push(payload.toString()));
  await listener.subscribeAsync(`homewater/${SITE}/status`);
  const { acknowledged, publish } = await publisherAt(port);
  publish(0, 500);
  await until(() => acknowledged.size === 500, "there is room at first");

  fillUp(ballast);
  publish(500, 3_000);
  await until(() => states.some((state) => state.includes("not storing")), "the status says so", 30_000);
  expect(states.findLast((state) => state.includes("not storing"))).toMatch(/is full or failing/);
  const told = [...acknowledged];
  const stored = new Set(
    (await readingsAt(seen, "temperature")).map((reading) => Math.round(reading.value * 100)),
  );
  expect(told.filter((n) => !stored.has(n))).toEqual([]);
  expect(told.length).toBeLessThan(3_000);

  await rm(ballast);
  await until(() => acknowledged.size === 3_000, "all is acknowledged once there is room", 60_000);
  await until(() => states.at(-1)?.includes('"up"') ?? false, "the status says that it is up again");
  const readings = await readingsAt(seen, "temperature");
  expect(readings.map((reading) => Math.round(reading.value * 100))).toEqual(
    Array.from({ length: 3_000 }, (_, n) => n),
  );
  const lines = accepting
    .errors()
    .split("\n")
    .filter((line) => line.includes("not stored")).length;
  // One line and then one every ten seconds, not one a message.
  expect(lines).toBeLessThan(20);
  expect(await accepting.stop()).toBe(0);
  console.info(
    `full disk: ${told.length} acknowledged and stored before it was full, 3000 after there was room again`,
  );
});
