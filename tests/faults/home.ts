/** A running Homewater of two processes over one store, for killing; and the watching of its store from outside. */
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { LEASE_NAME } from "#services/evaluate/evaluator.ts";
import { readHealth } from "#services/upkeep/read-health.ts";
import type { Store } from "#store/port.ts";
import type { Launched, ProcessTree } from "../helpers/process-tree.ts";
import { until } from "../ingest/accept-parts.ts";

export const LOGIN = { user: "gateway", password: "kelp-forest-7" };
export const API_TOKEN = "a-token-of-this-test";

export interface Home {
  /** Where the embedded broker listens; the same port after every start. Null where the broker is another's. */
  port(): number | null;
  /** Evaluating first, so that it is at work when the first message is taken. */
  start(): Promise<void>;
  /** SIGKILL to both at once. */
  kill(): Promise<void>;
  /** SIGTERM to both; rejects where either does not end with code 0. */
  stop(): Promise<void>;
}

/** `settings` name the store, and the broker where it is an external one. */
export function createHome(tree: ProcessTree, settings: Readonly<Record<string, string>>): Home {
  let running: Launched[] = [];
  let port: number | null = null;
  const env = {
    HOMEWATER_MQTT_USER: LOGIN.user,
    HOMEWATER_MQTT_PASSWORD: LOGIN.password,
    ...settings,
  };
  return {
    port: () => port,
    async start() {
      const evaluating = await tree.launch("ingest/evaluate/main.ts", { env, saysReady: true });
      running = [evaluating];
      const accepting = await tree.launch("ingest/accept/main.ts", {
        env: { ...env, HOMEWATER_MQTT_PORT: String(port ?? 0) },
        saysReady: true,
      });
      running.push(accepting);
      port = accepting.said.port as number | null;
    },
    async kill() {
      await Promise.all(running.map((one) => one.kill()));
      running = [];
    },
    async stop() {
      for (const one of running) {
        const code = await one.stop();
        if (code !== 0) throw new Error(`${one.name} ended with ${code}:\n${one.errors().slice(-2_000)}`);
      }
      running = [];
    },
  };
}

/**
 * A killed evaluator keeps its lease until it runs out (fifteen seconds). Lets that time pass at once, by asking for the lease from
 * a later moment and giving it back.
 */
export async function letLeaseRunOut(store: Store): Promise<void> {
  const lease = await store.acquireLease(LEASE_NAME, "a test", Date.now() + 60_000, 1);
  if (lease) await store.releaseLease(LEASE_NAME, lease);
}

/** Resolves when everything in the journal is judged and nothing waits to be judged again. */
export async function everythingJudged(store: Store, withinMs: number): Promise<void> {
  await until(
    async () => {
      const { journal, cursor, rejudging } = await store.status();
      return rejudging.length === 0 && (journal?.seq ?? 0) === (cursor?.seq ?? 0);
    },
    "everything is judged",
    withinMs,
  );
}

/** The dashboard's answer about its health and nothing else, for the replay's summary. */
export async function startHealth(store: Store): Promise<{ readonly url: string; close(): Promise<void> }> {
  const server = createServer((request, response) => {
    const isKnown = request.headers.authorization === `Bearer ${API_TOKEN}`;
    readHealth({ store, clock: Date.now }, "0.1.0", isKnown).then(
      (view) => response.end(JSON.stringify(view)),
      (error: unknown) => response.writeHead(503).end(String(error)),
    );
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

/** A generator of numbers in [0, 1) that gives the same ones for the same seed (mulberry32, public domain). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

const given = (name: string): number | undefined => {
  const text = process.env[name];
  if (text === undefined) return undefined;
  if (!/^\d+$/.test(text)) throw new Error(`${name} is "${text}": write a whole number`);
  return Number(text);
};

/** How often processes are killed, where nobody says otherwise. */
export const killsOr = (usual: number): number => given("HOMEWATER_TEST_KILLS") ?? usual;
/** How many payloads are thrown at it, where nobody says otherwise. */
export const payloadsOr = (usual: number): number => given("HOMEWATER_TEST_PAYLOADS") ?? usual;
/** The moments of killing hang on it: give the one that a failed run printed to have them again. */
export const seedOfRun = (): number => given("HOMEWATER_TEST_SEED") ?? Date.now() % 1_000_000_000;
