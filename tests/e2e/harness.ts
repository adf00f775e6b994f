/** The product as it runs: accepting and evaluating processes and the built dashboard over a folder of their own. */
import { type ChildProcess, spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { join } from "node:path";
import mqtt, { type MqttClient } from "mqtt";
import { type Browser, chromium } from "playwright-core";
import { readSettings } from "#config/env.ts";
import { openDependencies } from "#config/open.ts";
import { buildDashboard } from "#ingest/commands/dashboard-build.mjs";
import type { Store } from "#store/port.ts";
import { storeFolder } from "../helpers/store-folder.ts";
import { browserLaunchOptions } from "../helpers/system-parts.ts";
import { SITE } from "./seed.ts";

const PUBLISHER = { user: "gateway", password: "kelp-forest-7" };

export interface Running {
  /** Where the dashboard answers, without a slash at the end. */
  readonly url: string;
  /** Publishes to a topic below the site, at least once, and waits for the broker's acknowledgement. */
  publish(path: string, payload: unknown): Promise<void>;
  /** What the processes said on standard error. */
  errors(): string;
  /** Stops the dashboard and starts it again on the same port. */
  stopDashboard(): Promise<void>;
  startDashboard(): Promise<void>;
  stop(): Promise<void>;
}

interface Child {
  readonly process: ChildProcess;
  output(): string;
  errors(): string;
}

function start(args: readonly string[], environment: NodeJS.ProcessEnv): Child {
  const child = spawn(process.execPath, args, { env: environment, stdio: ["ignore", "pipe", "pipe"] });
  let [output, errors] = ["", ""];
  child.stdout?.on("data", (chunk: Buffer) => {
    output += chunk.toString();
  });
  child.stderr?.on("data", (chunk: Buffer) => {
    errors += chunk.toString();
  });
  return { process: child, output: () => output, errors: () => errors };
}

async function stopChild({ process: child }: Child): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return;
  const ended = new Promise((resolve) => child.once("exit", resolve));
  child.kill("SIGTERM");
  const forced = setTimeout(() => child.kill("SIGKILL"), 5_000);
  await ended;
  clearTimeout(forced);
}

/** Waits until `find` gives something; throws with the child's last words when it ends or takes too long. */
async function waitFor<T>(
  child: Child,
  what: string,
  find: () => T | null | undefined | Promise<T | null>,
): Promise<T> {
  const until = performance.now() + 60_000;
  while (performance.now() < until) {
    const found = await find();
    if (found !== null && found !== undefined) return found;
    if (child.process.exitCode !== null) break;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  throw new Error(`${what} did not start:\n${child.output().slice(-2000)}\n${child.errors().slice(-4000)}`);
}

const isReady = (child: Child) => /^\{"ready":true.*\}$/m.exec(child.output())?.[0] ?? null;

/** Starts everything on free ports over a temporary folder that `seed` filled, building the dashboard first where its sources changed. */
export async function startHomewater(seed: (store: Store) => Promise<void>): Promise<Running> {
  const built = await buildDashboard();
  if (!built.ok) throw new Error(built.problem);
  const folder = mkdtempSync(join(storeFolder(), "homewater-e2e-"));
  const environment = {
    PATH: process.env.PATH ?? "",
    HOME: process.env.HOME ?? folder,
    TZ: "UTC",
    NODE_ENV: "production" as const,
    NEXT_TELEMETRY_DISABLED: "1",
    HOMEWATER_DATA: folder,
    HOMEWATER_MQTT_PORT: "0",
    HOMEWATER_MQTT_USER: PUBLISHER.user,
    HOMEWATER_MQTT_PASSWORD: PUBLISHER.password,
  };
  const { store } = await openDependencies(readSettings(environment), { migrate: true });
  await seed(store);
  await store.close();

  const accept = start(["--import", "tsx", "ingest/accept/main.ts"], environment);
  const children = [accept];
  const { port: brokerPort } = JSON.parse(await waitFor(accept, "accept", () => isReady(accept))) as {
    port: number;
  };
  const evaluate = start(["--import", "tsx", "ingest/evaluate/main.ts"], environment);
  children.push(evaluate);
  let dashboard: Child | null = null;
  let url = "";
  const startDashboard = async () => {
    const port = url === "" ? "0" : new URL(url).port;
    const child = start(
      ["node_modules/next/dist/bin/next", "start", "-H", "127.0.0.1", "-p", port],
      environment,
    );
    dashboard = child;
    url = await waitFor(
      child,
      "next start",
      () => /http:\/\/(?:127\.0\.0\.1|localhost):[1-9]\d*/.exec(child.output())?.[0],
    );
    await waitFor(child, "the dashboard", async () => {
      const answer = await fetch(`${url}/api/v1/health`).catch(() => null);
      return answer?.ok ? true : null;
    });
  };
  await Promise.all([startDashboard(), waitFor(evaluate, "evaluate", () => isReady(evaluate))]);
  const client: MqttClient = await mqtt.connectAsync(`mqtt://127.0.0.1:${brokerPort}`, {
    username: PUBLISHER.user,
    password: PUBLISHER.password,
  });
  return {
    get url() {
      return url;
    },
    publish: async (path, payload) => {
      await client.publishAsync(
        `homewater/${SITE}/${path}`,
        typeof payload === "string" ? payload : JSON.stringify(payload),
        { qos: 1 },
      );
    },
    errors: () => [...children, ...(dashboard === null ? [] : [dashboard])].map((c) => c.errors()).join("\n"),
    startDashboard,
    stopDashboard: async () => {
      if (dashboard !== null) await stopChild(dashboard);
    },
    stop: async () => {
      await client.endAsync(true);
      if (dashboard !== null) await stopChild(dashboard);
      for (const child of children) await stopChild(child);
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

export async function startBrowser(executablePath: string): Promise<Browser> {
  return chromium.launch(browserLaunchOptions(executablePath));
}
