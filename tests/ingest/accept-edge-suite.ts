import mqtt, { type IClientOptions, type MqttClient } from "mqtt";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { type Acceptor, createAcceptor } from "#services/gateway/accept-message.ts";
import { type Store, StoreError } from "#store/port.ts";
import { openPostgres } from "#store/postgres/open.ts";
import { brokenPayloads, bytesOf, goodPayloads } from "../core/gateway/payload-corpus.ts";
import { temporaryStore } from "../helpers/open-store.ts";
import { type PostgresServer, postgresMissing, startPostgres } from "../helpers/postgres-server.ts";
import { readingsAt, SYSTEM, setUpKelpGallery, topicOf, troubledStore, until } from "./accept-parts.ts";

/** One way by which messages reach the store, with a real broker. */
export interface Edge {
  /** Where publishers connect, with what they need. */
  readonly url: string;
  readonly publisher: IClientOptions;
  close(): Promise<void>;
}
export interface EdgeUnderTest {
  readonly name: string;
  /** Embedded: the publisher's own PUBACK waits for the commit. Otherwise the broker's acknowledgement of the broker comes first. */
  readonly isEmbedded: boolean;
  /** Each message has a commit of its own: the same must hold, of fewer messages where commits are slow. */
  readonly isOneByOne?: boolean;
  /** The broker between drops a kept session when a topic has an empty level. */
  readonly isWithoutEmptyLevels?: boolean;
  start(acceptor: Acceptor): Promise<Edge>;
}

const TEMPERATURE = topicOf("temperature");
const minuteAgo = () => Date.now() - 60_000;

type OpenStore = () => Promise<{ readonly store: Store; dispose(): Promise<void> }>;

/** What holds whichever way a message came: into SQLite. */
export function describeEdge(edge: EdgeUnderTest): void {
  describe(edge.name, () => describeAccepting(edge, () => temporaryStore()));
}

const missing = await postgresMissing();

/** The same into PostgreSQL. */
export function describeEdgeIntoPostgres(edge: EdgeUnderTest): void {
  const name = `${edge.name}, into PostgreSQL`;
  describe.skipIf(missing !== null)(missing === null ? name : `${name} (skipped: ${missing})`, () => {
    let server: PostgresServer;
    beforeAll(async () => {
      server = await startPostgres();
    });
    afterAll(async () => {
      await server.stop();
    });
    describeAccepting(edge, async () => {
      const store = await openPostgres({ url: await server.createMigrated(), migrate: false });
      return { store, dispose: () => store.close() };
    });
  });
}

function describeAccepting(edge: EdgeUnderTest, open: OpenStore): void {
  describe("accepting", () => {
    const closers: (() => Promise<unknown>)[] = [];
    afterEach(async () => {
      for (const close of closers.splice(0).reverse()) await close();
    });

    async function started() {
      const opened = await open();
      closers.push(() => opened.dispose());
      await setUpKelpGallery(opened.store, Date.now());
      const store = troubledStore(opened.store);
      const acceptor = createAcceptor({ store, clock: Date.now });
      const running = await edge.start(acceptor);
      closers.push(() => running.close());
      const publisher = async (more: IClientOptions = {}): Promise<MqttClient> => {
        const client = await mqtt.connectAsync(running.url, {
          reconnectPeriod: 100,
          ...running.publisher,
          ...more,
        });
        client.on("error", () => {
          // A connection that is ended on purpose: what the test asserts is what is stored.
        });
        closers.push(() => client.endAsync(true));
        return client;
      };
      const seen = () => {
        const { accepted, rejected, unclaimed } = acceptor.counts();
        return accepted + rejected + unclaimed;
      };
      return { store, acceptor, publisher, seen };
    }

    it("stores a reading before it is acknowledged, at its own time, by the sender's name", async () => {
      const { store, publisher, seen } = await started();
      const client = await publisher({ clientId: "gateway-7" });
      const at = minuteAgo();
      await client.publishAsync(TEMPERATURE, JSON.stringify({ at, value: 12.4 }), { qos: 1 });
      if (!edge.isEmbedded) await until(() => seen() === 1, "the message is taken in");
      expect(await readingsAt(store, "temperature")).toMatchObject([{ at, value: 12.4 }]);
      if (edge.isEmbedded)
        expect((await store.readSetUp()).sources).toMatchObject([{ code: "gateway-7", kind: "gateway" }]);
    });

    it("stores each of many once, and their repeats and contradictions are counted", async () => {
      const { store, acceptor, publisher, seen } = await started();
      const client = await publisher();
      const from = minuteAgo();
      const send = (n: number, value = n / 10) =>
        client.publishAsync(TEMPERATURE, JSON.stringify({ at: from + n, value }), { qos: 1 });
      const [many, again] = edge.isOneByOne ? [200, 50] : [2_000, 500];
      const all = Array.from({ length: many }, (_, n) => n);
      await Promise.all(all.map((n) => send(n)));
      await Promise.all(all.slice(0, again).map((n) => send(n)));
      await send(3, 99);
      await until(() => seen() === many + again + 1, "all messages are taken in");
      expect((await readingsAt(store, "temperature")).map(({ at, value }) => [at, value])).toEqual(
        all.map((n) => [from + n, n / 10]),
      );
      expect(acceptor.counts()).toMatchObject({ stored: many, duplicates: again, conflicts: 1, rejected: 0 });
      expect((await store.status()).counts).toMatchObject({
        readings: many,
        duplicates: again,
        conflicts: 1,
      });
      // Under load one commit serves many messages.
      if (!edge.isOneByOne) expect(store.appends).toBeLessThan(1_000);
    });

    it("takes every good payload, files every broken one with its reason, and neither disturbs the other", async () => {
      const { store, publisher, seen } = await started();
      const client = await publisher();
      const broken = edge.isWithoutEmptyLevels
        ? brokenPayloads.filter((one) => !one.topic.includes("//"))
        : brokenPayloads;
      const steady = Array.from({ length: 200 }, (_, n) => ({ at: minuteAgo() + n, value: n }));
      await Promise.all([
        ...steady
          .slice(0, 100)
          .map((one) => client.publishAsync(topicOf("orp"), JSON.stringify(one), { qos: 1 })),
        ...[...broken, ...goodPayloads]
          .filter((one) => edge.isEmbedded || one.topic.split("/").length === 5)
          .filter((one) => edge.isEmbedded || one.topic.startsWith("homewater/"))
          .map((one) => client.publishAsync(one.topic, bytesOf(one), { qos: 1 })),
        ...steady
          .slice(100)
          .map((one) => client.publishAsync(topicOf("orp"), JSON.stringify(one), { qos: 1 })),
      ]);
      const expected = broken.filter(
        (one) => edge.isEmbedded || (one.topic.startsWith("homewater/") && one.topic.split("/").length === 5),
      );
      await until(() => seen() === 200 + expected.length + goodPayloads.length, "all messages are taken in");
      const filed = await store.readRejected(1_000);
      for (const { name, topic, reason } of expected)
        expect(
          filed.some((row) => row.topic === topic && row.reason.includes(reason)),
          `${name}: ${reason}`,
        ).toBe(true);
      expect((await store.status()).counts.rejected).toBe(expected.length);
      const orp = (await readingsAt(store, "orp")).filter((one) => one.at > Date.now() - 3_600_000);
      // One of the good payloads is an ORP reading without a time.
      expect(orp).toHaveLength(201);
    });

    it("keeps the readings of an unknown place for adoption", async () => {
      const { store, publisher, seen } = await started();
      const client = await publisher();
      const topic = `homewater/pennacombe/${SYSTEM}-2/display/temperature`;
      await client.publishAsync(topic, JSON.stringify({ at: minuteAgo(), value: 12.4 }), { qos: 1 });
      await until(() => seen() === 1, "the message is taken in");
      expect(await store.readUnclaimed(10)).toMatchObject([{ topic, count: 1 }]);
    });

    it("does not acknowledge what the store refuses; it comes again and is stored once", async () => {
      const { store, acceptor, publisher, seen } = await started();
      const client = await publisher({ clientId: "gateway-8", clean: false });
      const from = minuteAgo();
      let acknowledged = 0;
      store.trouble = new StoreError("full", "The disk is full: free some space.");
      const sending = [0, 1, 2, 3, 4].map((n) =>
        client.publishAsync(TEMPERATURE, JSON.stringify({ at: from + n, value: n }), { qos: 1 }).then(() => {
          acknowledged += 1;
        }),
      );
      await until(
        () => acceptor.counts().failedCommits >= 2,
        "the store has refused and the message has come again",
      );
      if (edge.isEmbedded) expect(acknowledged).toBe(0);
      expect(acceptor.counts()).toMatchObject({ stored: 0, trouble: "The disk is full: free some space." });
      expect(await readingsAt(store, "temperature")).toEqual([]);
      store.trouble = null;
      await Promise.all(sending);
      await until(() => seen() >= 5, "all messages are taken in");
      expect((await readingsAt(store, "temperature")).map((one) => one.value)).toEqual([0, 1, 2, 3, 4]);
      expect(acceptor.counts()).toMatchObject({ stored: 5, trouble: null });
    });

    it("loses nothing, doubles nothing and keeps its connection while each commit takes 3 s", {
      timeout: 40_000,
    }, async () => {
      const { store, acceptor, publisher, seen } = await started();
      const client = await publisher({ keepalive: 10 });
      let closed = 0;
      client.on("close", () => {
        closed += 1;
      });
      const messages = edge.isOneByOne ? 4 : 60;
      store.delayMs = 3_000;
      const from = minuteAgo();
      const sending: Promise<unknown>[] = [];
      for (let n = 0; n < messages; n += 1) {
        sending.push(
          client.publishAsync(TEMPERATURE, JSON.stringify({ at: from + n, value: n }), { qos: 1 }),
        );
        await new Promise((resolve) => setTimeout(resolve, 100));
      }
      await Promise.all(sending);
      await until(() => seen() === messages, "all messages are taken in", 20_000);
      expect(closed).toBe(0);
      expect(await readingsAt(store, "temperature")).toHaveLength(messages);
      expect(acceptor.counts()).toMatchObject({ stored: messages, duplicates: 0, failedCommits: 0 });
      expect(acceptor.counts().lastCommitMs).toBeGreaterThan(2_900);
    });
  });
}
