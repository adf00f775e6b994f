import { type ChildProcess, spawn } from "node:child_process";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Aedes } from "aedes";
import mqtt from "mqtt";
import { afterEach, describe, expect, it } from "vitest";
import { type Subscriber, startSubscriber } from "#ingest/accept/subscriber.ts";
import { createAcceptor } from "#services/gateway/accept-message.ts";
import { temporaryStore } from "../helpers/open-store.ts";
import { describeWith } from "../helpers/system-parts.ts";
import { describeEdge, describeEdgeIntoPostgres, type EdgeUnderTest } from "./accept-edge-suite.ts";
import { keptLog, readingsAt, setUpKelpGallery, topicOf, troubledStore, until } from "./accept-parts.ts";

const freePort = (): Promise<number> =>
  new Promise((resolve) => {
    const server = createServer();
    server.listen(0, "127.0.0.1", () => {
      const address = server.address();
      server.close(() => resolve(typeof address === "object" && address ? address.port : 0));
    });
  });

async function answers(port: number): Promise<void> {
  await until(
    () =>
      mqtt.connectAsync(`mqtt://127.0.0.1:${port}`, { reconnectPeriod: 0 }, false).then(
        (client) => client.endAsync().then(() => true),
        () => false,
      ),
    "the broker answers",
  );
}

/** A broker of the machine's own, on a port that was free a moment ago. */
async function startBroker(program: string) {
  const folder = await mkdtemp(join(tmpdir(), "homewater-broker-"));
  const port = await freePort();
  await writeFile(
    join(folder, "broker.conf"),
    [
      `listener ${port} 127.0.0.1`,
      "allow_anonymous true",
      // A queue and a window that hold an outage; the program's own defaults drop messages without a word.
      "max_inflight_messages 2000",
      "max_queued_messages 100000",
      "",
    ].join("\n"),
  );
  const run = async (): Promise<ChildProcess> => {
    const child = spawn(program, ["-c", join(folder, "broker.conf")], { stdio: "ignore" });
    await answers(port);
    return child;
  };
  let child = await run();
  const end = () =>
    new Promise<void>((resolve) => {
      child.once("exit", () => resolve());
      child.kill("SIGKILL");
    });
  return {
    url: `mqtt://127.0.0.1:${port}`,
    end,
    async again() {
      child = await run();
    },
    async close() {
      if (child.exitCode === null && child.signalCode === null) await end();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

describeWith("mosquitto", "with a broker of the machine's own", (program) => {
  const over = (protocolVersion: 4 | 5): EdgeUnderTest => ({
    name: `a subscriber over MQTT ${protocolVersion === 5 ? "5" : "3.1.1"}`,
    isEmbedded: false,
    async start(acceptor) {
      const broker = await startBroker(program);
      const { log } = keptLog();
      const subscriber = startSubscriber({
        acceptor,
        log,
        url: broker.url,
        clientId: "homewater-test",
        site: "pennacombe",
        reconnectMs: 100,
        keepaliveSeconds: 2,
        protocolVersion,
      });
      await subscriber.ready;
      return {
        url: broker.url,
        publisher: {},
        async close() {
          await subscriber.close();
          await broker.close();
        },
      };
    },
  });
  describeEdge(over(5));
  describeEdge(over(4));
  describeEdgeIntoPostgres(over(5));

  describe("a subscriber", () => {
    const closers: (() => Promise<unknown>)[] = [];
    afterEach(async () => {
      for (const close of closers.splice(0).reverse()) await close();
    });
    async function started() {
      const opened = await temporaryStore();
      closers.push(() => opened.dispose());
      await setUpKelpGallery(opened.store, Date.now());
      const store = troubledStore(opened.store);
      const acceptor = createAcceptor({ store, clock: Date.now });
      const broker = await startBroker(program);
      closers.push(() => broker.close());
      const { lines, log } = keptLog();
      const subscribe = async (): Promise<Subscriber> => {
        const { url } = broker;
        const one = startSubscriber({
          acceptor,
          log,
          url,
          clientId: "homewater-test",
          site: "pennacombe",
          reconnectMs: 100,
        });
        closers.push(() => one.close());
        await one.ready;
        return one;
      };
      const publisher = async () => {
        const one = await mqtt.connectAsync(broker.url, { reconnectPeriod: 100 });
        closers.push(() => one.endAsync(true));
        return one;
      };
      return { store, acceptor, broker, subscribe, publisher, lines };
    }
    const reading = (n: number) => JSON.stringify({ at: 1_000 + n, value: n });

    it("gets what was published while it was away", async () => {
      const { store, subscribe, publisher } = await started();
      await (await subscribe()).close();
      const sender = await publisher();
      await Promise.all(
        Array.from({ length: 300 }, (_, n) => sender.publishAsync(topicOf("orp"), reading(n), { qos: 1 })),
      );
      await subscribe();
      await until(async () => (await readingsAt(store, "orp")).length === 300, "all have been taken in");
    });

    it("subscribes again at a broker that has forgotten it, sends no old acknowledgement, and says what may be missing", async () => {
      const { store, acceptor, broker, subscribe, publisher, lines } = await started();
      const subscriber = await subscribe();
      const sender = await publisher();
      store.delayMs = 1_500;
      await sender.publishAsync(topicOf("orp"), reading(1), { qos: 1 });
      await until(() => store.appends === 1, "the commit has begun");
      await broker.end();
      await broker.again();
      await until(
        () => subscriber.counts().connections === 2 && subscriber.counts().isConnected,
        "it is back",
        30_000,
      );
      await until(() => acceptor.counts().stored === 1, "the old message is stored");
      store.delayMs = 0;
      // Packet identifiers begin again at 1 on the new session: this message must be acknowledged by itself.
      await until(() => sender.connected, "the publisher is back");
      await sender.publishAsync(topicOf("orp"), reading(2), { qos: 1 });
      await until(() => acceptor.counts().stored === 2, "the new message is stored");
      await until(() => subscriber.counts().unacknowledged === 0, "and acknowledged");
      expect(subscriber.counts().sessionsLost).toBe(1);
      expect(lines.join("")).toContain("may be missing");
    });

    it("takes a retained message once, under its own time, however often it subscribes", async () => {
      const { store, acceptor, subscribe, publisher } = await started();
      const sender = await publisher();
      await sender.publishAsync(topicOf("ph"), JSON.stringify({ at: 5_000, value: 8.1 }), {
        qos: 1,
        retain: true,
      });
      await sender.publishAsync(topicOf("orp"), "340", { qos: 1, retain: true });
      await subscribe();
      await until(() => acceptor.counts().stored + acceptor.counts().rejected === 2, "both have come");
      expect(await readingsAt(store, "ph")).toMatchObject([{ at: 5_000, value: 8.1 }]);
      expect(await readingsAt(store, "orp")).toEqual([]);
      expect(await store.readRejected(10)).toMatchObject([{ reason: expect.stringMatching(/^retained/) }]);
    });

    it("leaves its last will where people look", async () => {
      const { subscribe, publisher } = await started();
      const subscriber = await subscribe();
      await subscriber.publishStatus("pennacombe", { state: "up" });
      const listener = await publisher();
      const heard: string[] = [];
      listener.on("message", (_topic, payload) => heard.push(payload.toString()));
      await listener.subscribeAsync("homewater/+/status");
      await until(() => heard.length === 1, "the status is there");
      expect(heard).toEqual(['{"state":"up"}']);
    });
  });
});

describe("a broker that does not speak MQTT 5", () => {
  it("is spoken to in 3.1.1", async () => {
    const opened = await temporaryStore();
    await setUpKelpGallery(opened.store, Date.now());
    const broker = await Aedes.createBroker();
    const server = createServer(broker.handle);
    await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
    const address = server.address();
    const url = `mqtt://127.0.0.1:${typeof address === "object" && address ? address.port : 0}`;
    const acceptor = createAcceptor({ store: opened.store, clock: Date.now });
    const subscriber = startSubscriber({ acceptor, log: keptLog().log, url, clientId: "homewater-test" });
    await subscriber.ready;
    expect(subscriber.counts()).toMatchObject({ protocolVersion: 4, isConnected: true });
    const sender = await mqtt.connectAsync(url);
    await sender.publishAsync(topicOf("ph"), "8.1", { qos: 1 });
    await until(() => acceptor.counts().stored === 1, "the message is stored");
    await sender.endAsync();
    await subscriber.close();
    await new Promise<void>((resolve) => broker.close(resolve));
    server.close();
    await opened.dispose();
  });
});
