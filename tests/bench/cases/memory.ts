/** Memory of the accepting and of the evaluating process with five thousand streams, after each has had a dozen readings. */
import { readFileSync } from "node:fs";
import { connect } from "node:net";
import { temporaryStore } from "#tests/helpers/open-store.ts";
import { createProcessTree, type Launched } from "#tests/helpers/process-tree.ts";
import { answerReader, connectPacket, publishPacket } from "#tests/ingest/raw-mqtt.ts";
import type { BenchOptions, BenchRow } from "../bench-row.ts";
import { scaled } from "../bench-row.ts";
import { CADENCE, MEASURED_PER_SYSTEM, setUpBenchSite, valueAt } from "../invented-site.ts";

export const name = "memory";

const STREAMS = 5_000;
const ROUNDS = 12;
const IN_FLIGHT = 500;
const LOGIN = { user: "gateway", password: "kelp-forest-7" };
const SETTLED_WITHIN_MS = 600_000;

/** Mebibytes that a process holds in memory now. */
function residentOf({ pid }: Launched): number {
  const status = readFileSync(`/proc/${pid}/status`, "utf8");
  return Number(/VmRSS:\s+(\d+)/.exec(status)?.[1] ?? Number.NaN) / 1_024;
}

/** Sends them all with QoS 1 and waits until each is acknowledged. */
function publishAll(
  port: number,
  messages: readonly (readonly [topic: string, payload: string])[],
): Promise<void> {
  return new Promise((resolve, reject) => {
    const socket = connect(port, "127.0.0.1");
    let next = 0;
    let answered = 0;
    const read = answerReader((answer) => {
      if (answer === "puback") answered += 1;
      if (answered === messages.length) {
        socket.destroy();
        resolve();
        return;
      }
      for (; next < messages.length && next < answered + IN_FLIGHT; next += 1) {
        const [topic, payload] = messages[next] as (typeof messages)[number];
        socket.write(publishPacket(topic, payload, (next % 65_535) + 1));
      }
    });
    socket.on("data", read);
    socket.on("close", () => reject(new Error(`the connection ended after ${answered} acknowledgements`)));
    socket.write(connectPacket("bench-gateway", LOGIN.user, LOGIN.password));
  });
}

export async function run({ scale, say }: BenchOptions): Promise<BenchRow[]> {
  if (process.platform !== "linux") throw new Error("memory is read from /proc, which only Linux has");
  const systems = Math.ceil(scaled(STREAMS, scale, 100) / MEASURED_PER_SYSTEM);
  const opened = await temporaryStore();
  const tree = createProcessTree();
  try {
    const { store, file } = opened;
    const begin = Date.now() - (Date.now() % CADENCE) - ROUNDS * CADENCE;
    const { streams } = await setUpBenchSite(store, systems, begin);
    const env = {
      HOMEWATER_DATABASE_URL: `file:${file}`,
      HOMEWATER_MQTT_PORT: "0",
      HOMEWATER_MQTT_USER: LOGIN.user,
      HOMEWATER_MQTT_PASSWORD: LOGIN.password,
    };
    // Both as `npm start` starts them.
    const evaluating = await tree.launch("ingest/evaluate/main.ts", {
      env: { ...env, NODE_OPTIONS: "--max-semi-space-size=8" },
      saysReady: true,
    });
    const accepting = await tree.launch("ingest/accept/main.ts", {
      env: { ...env, NODE_OPTIONS: "--max-semi-space-size=24" },
      saysReady: true,
    });
    let most = { accepting: 0, evaluating: 0 };
    const look = () => {
      most = {
        accepting: Math.max(most.accepting, residentOf(accepting)),
        evaluating: Math.max(most.evaluating, residentOf(evaluating)),
      };
    };
    const looking = setInterval(look, 100);
    for (let round = 0; round < ROUNDS; round += 1) {
      const at = begin + round * CADENCE;
      const messages = streams.map(({ point, quantity }, n) => {
        const topic = `homewater/bench-house/${point}/${quantity}`;
        return [topic, `{"at":${at},"value":${valueAt(n, at)}}`] as const;
      });
      await publishAll(accepting.said.port as number, messages);
    }
    const until = performance.now() + SETTLED_WITHIN_MS;
    for (;;) {
      const { journal, cursor, rejudging, counts } = await store.status();
      if (rejudging.length === 0 && journal?.seq === cursor?.seq) {
        if (counts.readings !== streams.length * ROUNDS)
          throw new Error(`${counts.readings} of ${streams.length * ROUNDS} readings were stored`);
        break;
      }
      if (performance.now() > until) throw new Error("not everything was judged in ten minutes");
      await new Promise((resolve) => setTimeout(resolve, 200));
    }
    clearInterval(looking);
    look();
    say(`  ${streams.length} streams, ${streams.length * ROUNDS} readings`);
    const row = (what: string, ours: number): BenchRow => ({
      what: `${what}, ${streams.length} streams, at most`,
      unit: "MiB",
      ours,
      reference: null,
      referenceIs: "",
      target: { of: "ours", atMost: 300 },
    });
    return [row("the accepting process", most.accepting), row("the evaluating process", most.evaluating)];
  } finally {
    await tree.killAll();
    await opened.dispose();
  }
}
