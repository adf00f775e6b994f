import { type ChildProcess, spawn } from "node:child_process";
import { chmodSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import mqtt from "mqtt";
import { afterEach, describe, expect, it } from "vitest";
import { temporaryStore } from "../helpers/open-store.ts";
import { readingsAt, setUpKelpGallery, topicOf, until } from "./accept-parts.ts";

const closers: (() => unknown)[] = [];
afterEach(async () => {
  for (const close of closers.splice(0).reverse()) await close();
});

const login = { user: "gateway", password: "kelp-forest-7" };

interface Running {
  readonly child: ChildProcess;
  readonly port: number | null;
  /** Standard error so far. */
  errors(): string;
  ended: Promise<number | null>;
}
/** The process as `npm start` starts it; port null where it ended before it was ready. */
async function run(settings: Record<string, string>): Promise<Running> {
  const child = spawn(process.execPath, ["--import", "tsx", "ingest/accept/main.ts"], {
    env: { ...process.env, HOMEWATER_MQTT_PORT: "0", ...settings },
  });
  closers.push(() => child.kill("SIGKILL"));
  let [out, errors] = ["", ""];
  child.stdout?.on("data", (chunk) => {
    out += chunk;
  });
  child.stderr?.on("data", (chunk) => {
    errors += chunk;
  });
  const ended = new Promise<number | null>((resolve) => child.once("exit", (code) => resolve(code)));
  const ready = until(() => out.includes("\n"), "the process is ready", 30_000);
  await Promise.race([ready, ended]);
  ready.catch(() => {
    // It ended before: the caller looks at how.
  });
  const port = out === "" ? null : (JSON.parse(out) as { ready: true; port: number }).port;
  return { child, port, errors: () => errors, ended };
}

describe("the accepting process", () => {
  it("says where it listens, notes that it is up, and ends cleanly when asked", async () => {
    const opened = await temporaryStore();
    closers.push(() => opened.dispose());
    const settings = {
      HOMEWATER_DATABASE_URL: `file:${opened.file}`,
      HOMEWATER_MQTT_USER: login.user,
      HOMEWATER_MQTT_PASSWORD: login.password,
    };
    const { child, port, ended, errors } = await run(settings);
    expect(port).toBeGreaterThan(0);
    expect(await opened.store.journalAfter(0, 10)).toMatchObject([{ kind: "up" }]);
    child.kill("SIGTERM");
    expect(await ended).toBe(0);
    expect(errors()).not.toContain(login.password);
  });

  it("is killed in the middle of a stream, comes back, and each reading is stored exactly once", {
    timeout: 60_000,
  }, async () => {
    const opened = await temporaryStore();
    closers.push(() => opened.dispose());
    await setUpKelpGallery(opened.store, Date.now());
    const settings = {
      HOMEWATER_DATABASE_URL: `file:${opened.file}`,
      HOMEWATER_MQTT_USER: login.user,
      HOMEWATER_MQTT_PASSWORD: login.password,
    };
    const first = await run(settings);
    const client = await mqtt.connectAsync(`mqtt://127.0.0.1:${first.port}`, {
      username: login.user,
      password: login.password,
      reconnectPeriod: 100,
      clean: false,
      clientId: "gateway-1",
    });
    closers.push(() => client.endAsync(true));
    client.on("error", () => {
      // Refused while the process is down; it tries again.
    });
    const from = Date.now() - 3_600_000;
    const total = 4_000;
    let acknowledged = 0;
    let killed = 0;
    let second: Promise<Running> | undefined;
    const publish = async (n: number) => {
      await client.publishAsync(topicOf("orp"), JSON.stringify({ at: from + n, value: n }), { qos: 1 });
      acknowledged += 1;
      if (acknowledged >= 1_000 && second === undefined) {
        first.child.kill("SIGKILL");
        second = first.ended.then(async () => {
          // What was acknowledged is on disk, though the process had no time to tidy up.
          killed = (await readingsAt(opened.store, "orp")).length - acknowledged;
          return run({ ...settings, HOMEWATER_MQTT_PORT: String(first.port) });
        });
      }
    };
    let next = 0;
    const worker = async () => {
      while (next < total) {
        const n = next;
        next += 1;
        await publish(n);
      }
    };
    await Promise.all(Array.from({ length: 200 }, worker));
    expect(killed).toBeGreaterThanOrEqual(0);
    expect((await readingsAt(opened.store, "orp")).map(({ at, value }) => [at, value])).toEqual(
      Array.from({ length: total }, (_, n) => [from + n, n]),
    );
    (await second)?.child.kill("SIGTERM");
    expect(await (await second)?.ended).toBe(0);
  });

  it.each([
    ["a setting is nonsense", { HOMEWATER_MQTT_PORT: "many" }, /HOMEWATER_MQTT_PORT is "many": write a port/],
    ["the broker would have no password", {}, /HOMEWATER_MQTT_USER and HOMEWATER_MQTT_PASSWORD are not set/],
  ])("does not start where %s: one sentence, code 2", async (_, given, sentence) => {
    const folder = mkdtempSync(join(tmpdir(), "homewater-main-"));
    closers.push(() => rmSync(folder, { recursive: true }));
    const { port, ended, errors } = await run({ HOMEWATER_DATA: folder, ...given });
    expect(port).toBeNull();
    expect(await ended).toBe(2);
    expect(errors()).toMatch(sentence);
    expect(errors().trim().split("\n")).toHaveLength(1);
  });

  it("does not start on a store that cannot be used, and takes no message", async () => {
    const folder = mkdtempSync(join(tmpdir(), "homewater-main-"));
    closers.push(() => rmSync(folder, { recursive: true }));
    const file = join(folder, "homewater.db");
    writeFileSync(file, "this is no database, whatever its name says\n".repeat(200));
    chmodSync(file, 0o444);
    const { port, ended, errors } = await run({
      HOMEWATER_DATABASE_URL: `file:${file}`,
      HOMEWATER_MQTT_USER: login.user,
      HOMEWATER_MQTT_PASSWORD: login.password,
    });
    expect(port).toBeNull();
    expect(await ended).toBe(2);
    expect(errors()).toContain(file);
    expect(errors().trim().split("\n")).toHaveLength(1);
  });
});
