/**
 * Payloads of every kind of wrong, to the real accepting process: it goes on, answers each, and stores no value that was not sent.
 * `npm run soak` sends far more. The oracle reads the payloads with one regular expression of JSON's numbers (RFC 8259 section 6).
 */
import { connect, type Socket } from "node:net";
import { afterEach, expect, it } from "vitest";
import { brokenPayloads, bytesOf, goodPayloads } from "../core/gateway/payload-corpus.ts";
import { temporaryStore } from "../helpers/open-store.ts";
import { createProcessTree } from "../helpers/process-tree.ts";
import { setUpKelpGallery, topicOf } from "../ingest/accept-parts.ts";
import { answerReader, connectPacket, publishBytes } from "../ingest/raw-mqtt.ts";
import { LOGIN, payloadsOr, seeded, seedOfRun } from "./home.ts";

const closers: (() => Promise<unknown>)[] = [];
afterEach(async () => {
  for (const close of closers.splice(0).reverse()) await close();
});

const FOREVER = Number.MAX_SAFE_INTEGER;
const QUANTITIES = ["temperature", "ph", "orp", "level", "turbidity"];
const NUMBER = /-?\d+(?:\.\d+)?(?:[eE][+-]?\d+)?/g;
const IN_FLIGHT = 400;
const corpus = [...goodPayloads, ...brokenPayloads];

/** One payload: written as it should be, then perhaps spoilt. */
function payload(index: number, at: number, random: () => number): Buffer {
  const pick = <T>(items: readonly T[]): T => items[Math.floor(random() * items.length)] as T;
  const value = () =>
    pick([random() * 40, Math.floor(random() * 40), -random(), random() * 1e300, 5e-324, 1e21]);
  const entry = () => {
    const sent: Record<string, unknown> = { at: at + Math.floor(random() * 900), value: value() };
    if (random() < 0.2) sent.sequence = index;
    if (random() < 0.05) sent.history = true;
    if (random() < 0.1)
      sent[pick(["unit", "value", "at", "Value", "__proto__", "sequence", "q"])] = pick([
        null,
        true,
        "",
        "12",
        "Cel",
        [],
        {},
        -1,
        1.5,
        "NaN",
        "2026-03-01T00:00:00Z",
        "2026-03-01T00:00:00",
      ]);
    return sent;
  };
  const text = pick([
    () => JSON.stringify(entry()),
    () => JSON.stringify(entry()),
    () => JSON.stringify(Array.from({ length: Math.floor(random() * 6) }, entry)),
    () => JSON.stringify(entry()).replaceAll(",", ", ").replaceAll(":", ": "),
    () => `{"at":${at},"value":${"123456789".repeat(1 + Math.floor(random() * 40))}}`,
    () => `{"at":${at},"value":1e${Math.floor(random() * 800)}}`,
    () => `{"at":${at},"value":1,"value":2}`,
    () => "[".repeat(Math.floor(random() * 3_000)),
    () =>
      `{"at":${at},"value":${pick(["01", "1.", ".5", "+1", "0x10", "1,5", "--1", "NaN", "Infinity", "-0"])}}`,
    () => bytesOf(pick(corpus)).toString("latin1").slice(0, 4_000),
  ])();
  const bytes = Buffer.from(text, "latin1");
  const spoil = random();
  if (spoil < 0.15 && bytes.length > 0)
    bytes[Math.floor(random() * bytes.length)] = Math.floor(random() * 256);
  if (spoil > 0.9) return bytes.subarray(0, Math.floor(random() * bytes.length));
  if (spoil > 0.85)
    return Buffer.from(Array.from({ length: Math.floor(random() * 200) }, () => Math.floor(random() * 256)));
  return bytes;
}

/** Publishes each with QoS 1 and resolves when every one is acknowledged; rejects when the connection ends before. */
function publishAll(port: number, messages: readonly { readonly topic: string; readonly bytes: Buffer }[]) {
  let socket: Socket;
  const done = new Promise<void>((resolve, reject) => {
    let next = 0;
    let answered = 0;
    socket = connect(port, "127.0.0.1");
    const more = () => {
      for (; next < messages.length && next < answered + IN_FLIGHT; next += 1) {
        const { topic, bytes } = messages[next] as (typeof messages)[number];
        socket.write(publishBytes(topic, bytes, (next % 65_535) + 1));
      }
    };
    const read = answerReader((answer, id) => {
      if (answer === "puback") {
        if (id !== (answered % 65_535) + 1) reject(new Error(`acknowledged ${id} after ${answered} others`));
        answered += 1;
      }
      if (answered === messages.length) resolve();
      else more();
    });
    socket.on("data", read);
    socket.on("close", () => reject(new Error(`the connection ended after ${answered} acknowledgements`)));
    socket.write(connectPacket("fuzz", LOGIN.user, LOGIN.password));
  });
  return done.finally(() => socket.destroy());
}

it("payloads of every kind of wrong neither stop the accepting process nor become values that were not sent", {
  timeout: 120_000 + payloadsOr(5_000) * 10,
}, async () => {
  const count = payloadsOr(5_000);
  const seed = seedOfRun();
  const random = seeded(seed);
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
  const port = accepting.said.port as number;
  const start = Date.now() - count * 1_000 - 60_000;
  const topics = QUANTITIES.map((quantity) => topicOf(quantity));
  /** Every number that was written to a topic, as its nearest double; -0 is 0. */
  const sent = new Map(topics.map((topic) => [topic, new Set<number>()]));
  const messages = Array.from({ length: count }, (_, index) => {
    const topic = topics[index % topics.length] as string;
    const bytes = payload(index, start + index * 1_000, random);
    for (const number of bytes.toString("latin1").match(NUMBER) ?? [])
      sent.get(topic)?.add(Number(number) + 0);
    return { topic, bytes };
  });
  await publishAll(port, messages);
  // It still takes what is right.
  const last = {
    topic: topicOf("temperature"),
    bytes: Buffer.from(`{"at":${Date.now()},"value":12.345678}`),
  };
  await publishAll(port, [last]);
  sent.get(last.topic)?.add(12.345678);

  const { streams } = await store.readSetUp();
  let stored = 0;
  for (const quantity of QUANTITIES) {
    const ids = streams.filter((stream) => stream.quantity === quantity).map((stream) => stream.id);
    const known = sent.get(topicOf(quantity));
    for (const { value, at } of await store.readingsBetween(ids, 0, FOREVER, FOREVER)) {
      stored += 1;
      if (!known?.has(value))
        throw new Error(`seed ${seed}: ${quantity} at ${at} is ${value}, which was never sent`);
    }
  }
  const { counts } = await store.status();
  expect(counts.readings).toBe(stored);
  expect(stored).toBeGreaterThan(count / 10);
  expect(counts.rejected).toBeGreaterThan(count / 10);
  expect(
    (
      await store.readingsBetween(
        streams.map((one) => one.id),
        Date.now() - 60_000,
        FOREVER,
        FOREVER,
      )
    ).some((one) => one.value === 12.345678),
  ).toBe(true);
  expect(await accepting.stop()).toBe(0);
  console.info(
    `fuzz: seed ${seed}, ${count} payloads acknowledged, ${stored} readings stored, ${counts.rejected} messages rejected, 0 values that were not sent`,
  );
});
