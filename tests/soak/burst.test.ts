/**
 * Fifty times the ordinary rate (a hundred probes at 5 s: 20 messages a second) for five minutes, through the real accepting process: nothing
 * acknowledged is lost, memory stays bounded, an acknowledgement never takes ten seconds. `HOMEWATER_TEST_BURST_SECONDS` shortens it.
 */
import { readFileSync } from "node:fs";
import { connect } from "node:net";
import { afterEach, expect, it } from "vitest";
import { LOGIN } from "../faults/home.ts";
import { temporaryStore } from "../helpers/open-store.ts";
import { createProcessTree } from "../helpers/process-tree.ts";
import { setUpKelpGallery, topicOf } from "../ingest/accept-parts.ts";
import { answerReader, connectPacket, publishPacket } from "../ingest/raw-mqtt.ts";

const RATE = 50 * 20;
const SECONDS = Number(process.env.HOMEWATER_TEST_BURST_SECONDS ?? 300);
const closers: (() => Promise<unknown>)[] = [];
afterEach(async () => {
  for (const close of closers.splice(0).reverse()) await close();
});

it("fifty times the ordinary rate is stored whole, in bounded memory", {
  timeout: SECONDS * 3_000 + 120_000,
}, async () => {
  const tree = createProcessTree();
  closers.push(() => tree.killAll());
  const { store, file, dispose } = await temporaryStore();
  closers.push(dispose);
  await setUpKelpGallery(store, Date.now());
  const accepting = await tree.launch("ingest/accept/main.ts", {
    env: {
      HOMEWATER_DATABASE_URL: `file:${file}`,
      HOMEWATER_MQTT_PORT: "0",
      HOMEWATER_MQTT_USER: LOGIN.user,
      HOMEWATER_MQTT_PASSWORD: LOGIN.password,
    },
    saysReady: true,
  });
  const socket = connect(accepting.said.port as number, "127.0.0.1");
  closers.push(async () => socket.destroy());
  const sentAt: number[] = [];
  let answered = 0;
  let slowest = 0;
  socket.on(
    "data",
    answerReader((answer) => {
      if (answer !== "puback") return;
      slowest = Math.max(slowest, performance.now() - (sentAt[answered] ?? 0));
      answered += 1;
    }),
  );
  socket.write(connectPacket("burst", LOGIN.user, LOGIN.password));
  const start = Date.now() - SECONDS * 1_000;
  const began = performance.now();
  let most = 0;
  while (performance.now() - began < SECONDS * 1_000) {
    const due = Math.floor(((performance.now() - began) / 1_000) * RATE);
    for (let n = sentAt.length; n < due; n += 1) {
      sentAt.push(performance.now());
      socket.write(
        publishPacket(topicOf("orp"), `{"at":${start + n},"value":${n % 1_000}}`, (n % 65_535) + 1),
      );
    }
    if (process.platform === "linux") {
      const pid = readFileSync(`/proc/${accepting.pid}/status`, "utf8");
      most = Math.max(most, Number(/VmRSS:\s+(\d+)/.exec(pid)?.[1] ?? 0) / 1_024);
    }
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
  const until = performance.now() + 60_000;
  while (answered < sentAt.length && performance.now() < until)
    await new Promise((resolve) => setTimeout(resolve, 50));
  const catchUp = performance.now() - began - SECONDS * 1_000;
  expect(answered).toBe(sentAt.length);
  expect((await store.status()).counts).toMatchObject({
    readings: sentAt.length,
    conflicts: 0,
    duplicates: 0,
  });
  expect(slowest).toBeLessThan(10_000);
  expect(most).toBeLessThan(400);
  console.info(
    `burst: ${sentAt.length} messages in ${SECONDS} s, all stored once; slowest acknowledgement ${Math.round(slowest)} ms, at most ${Math.round(most)} MiB, caught up ${Math.round(catchUp)} ms after the last`,
  );
});
