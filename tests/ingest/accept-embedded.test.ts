import { connect } from "node:net";
import mqtt from "mqtt";
import { afterEach, describe, expect, it } from "vitest";
import { type EmbeddedBroker, startEmbeddedBroker } from "#ingest/accept/embedded-broker.ts";
import { createAcceptor } from "#services/gateway/accept-message.ts";
import { temporaryStore } from "../helpers/open-store.ts";
import { describeEdge, describeEdgeIntoPostgres, type EdgeUnderTest } from "./accept-edge-suite.ts";
import { keptLog, readingsAt, setUpKelpGallery, topicOf, troubledStore, until } from "./accept-parts.ts";
import { answerReader, connectPacket, publishPacket } from "./raw-mqtt.ts";

const publisher = { user: "gateway", password: "kelp-forest-7" };
const login = { username: publisher.user, password: publisher.password };

const embedded: EdgeUnderTest = {
  name: "the embedded broker",
  isEmbedded: true,
  async start(acceptor) {
    const broker = await startEmbeddedBroker({
      acceptor,
      log: keptLog().log,
      host: "127.0.0.1",
      port: 0,
      publisher,
    });
    return { url: `mqtt://127.0.0.1:${broker.port}`, publisher: login, close: () => broker.close() };
  },
};
describeEdge(embedded);
describeEdgeIntoPostgres(embedded);

describe("who may do what at the embedded broker", () => {
  const closers: (() => Promise<unknown>)[] = [];
  afterEach(async () => {
    for (const close of closers.splice(0).reverse()) await close();
  });
  async function started(packetLimit?: number) {
    const opened = await temporaryStore();
    closers.push(() => opened.dispose());
    await setUpKelpGallery(opened.store, Date.now());
    const store = troubledStore(opened.store);
    const acceptor = createAcceptor({ store, clock: Date.now });
    const { lines, log } = keptLog();
    const broker: EmbeddedBroker = await startEmbeddedBroker({
      acceptor,
      log,
      host: "127.0.0.1",
      port: 0,
      publisher,
      ...(packetLimit === undefined ? {} : { packetLimit }),
    });
    closers.push(() => broker.close());
    const url = `mqtt://127.0.0.1:${broker.port}`;
    const client = async (more = {}) => {
      const one = await mqtt.connectAsync(url, { reconnectPeriod: 0, ...login, ...more });
      one.on("error", () => {
        // The broker ends connections on purpose here.
      });
      closers.push(() => one.endAsync(true));
      return one;
    };
    return { store, acceptor, broker, url, client, lines };
  }

  it.each([
    ["nobody", {}],
    ["a wrong password", { username: "gateway", password: "guess" }],
    ["a wrong user", { username: "admin", password: publisher.password }],
    ["an empty password", { username: "gateway", password: "" }],
  ])("refuses %s", async (_, given) => {
    const { url, lines } = await started();
    await expect(mqtt.connectAsync(url, { reconnectPeriod: 0, ...given }, false)).rejects.toThrow(
      /bad username or password/i,
    );
    expect(lines.join("")).toContain("user or password is wrong");
    expect(lines.join("")).not.toContain(publisher.password);
  });

  it("files what is published outside homewater/ and passes it on to nobody", async () => {
    const { store, client, acceptor } = await started();
    const [sender, listener] = [await client(), await client()];
    const heard: string[] = [];
    listener.on("message", (topic) => heard.push(topic));
    const granted = await listener
      .subscribeAsync(["#", "$SYS/#", "sensors/#", "homewater/#"], { qos: 1 })
      .catch((error: Error) => error.message);
    expect(JSON.stringify(granted)).toMatch(/128|Unspecified error/);
    await sender.publishAsync("sensors/kelp", "12.4", { qos: 1 });
    await sender.publishAsync("$SYS/x/new/clients", "gateway", { qos: 1 });
    await sender.publishAsync("homewater/pennacombe/status", '{"state":"down"}', { qos: 1, retain: true });
    await sender.publishAsync("homewater/pennacombe/alarm/kelp-gallery/temperature", "{}", { qos: 1 });
    await sender.publishAsync(topicOf("ph"), "8.1", { qos: 1 });
    await until(() => heard.length > 0, "the one good message is passed on");
    expect(heard).toEqual([topicOf("ph")]);
    expect(acceptor.counts()).toMatchObject({ accepted: 1, rejected: 2 });
    expect((await store.readRejected(10)).map((row) => row.topic).sort()).toEqual([
      "$SYS/x/new/clients",
      "sensors/kelp",
    ]);
  });

  it("passes readings on to whoever listens, also after others have gone and after coming back to a kept session", async () => {
    const { client } = await started();
    const sender = await client();
    const heard: string[] = [];
    const listen = async (more = {}) => {
      const one = await client(more);
      one.on("message", (_topic, payload) => heard.push(payload.toString()));
      return one;
    };
    const kept = { clientId: "board", clean: false };
    const first = await listen(kept);
    await first.subscribeAsync("homewater/#");
    await (await listen()).endAsync();
    await sender.publishAsync(topicOf("ph"), "8.1", { qos: 1 });
    await until(() => heard.length === 1, "the first listener hears");
    await first.endAsync();
    await sender.publishAsync(topicOf("ph"), "8.2", { qos: 1 });
    await listen(kept);
    await sender.publishAsync(topicOf("ph"), "8.3", { qos: 1 });
    await until(() => heard.length === 2, "and hears again");
    expect(heard).toEqual(["8.1", "8.3"]);
  });

  it("queues nothing in memory for a listener that may be away: it is told so", async () => {
    const { client, lines } = await started();
    const away = await client({ clientId: "board", clean: false });
    await expect(away.subscribeAsync("homewater/#", { qos: 1 })).rejects.toThrow(/Unspecified error/);
    expect(lines.join("")).toContain("use QoS 0 or a clean session");
  });

  it("publishes its own status, retained", async () => {
    const { broker, client } = await started();
    await broker.publishStatus("pennacombe", { state: "up" });
    const listener = await client();
    const heard = new Promise((resolve) => {
      listener.on("message", (topic, payload, packet) => resolve([topic, payload.toString(), packet.retain]));
    });
    await listener.subscribeAsync("homewater/pennacombe/status");
    expect(await heard).toEqual(["homewater/pennacombe/status", '{"state":"up"}', true]);
  });

  it("does not keep readings as retained messages", async () => {
    const { client } = await started();
    const [sender, listener] = [await client(), await client()];
    await sender.publishAsync(topicOf("ph"), JSON.stringify({ at: Date.now(), value: 8.1 }), {
      qos: 1,
      retain: true,
    });
    const heard: string[] = [];
    listener.on("message", (_topic, payload) => heard.push(payload.toString()));
    await listener.subscribeAsync("homewater/#");
    await sender.publishAsync(topicOf("ph"), JSON.stringify({ at: 5, value: 8.2 }), { qos: 1 });
    await until(() => heard.length > 0, "the later message arrives");
    expect(heard).toEqual(['{"at":5,"value":8.2}']);
  });

  it("ends a connection that announces 10 MB, keeps none of it, names the sender, and serves the others", async () => {
    const { store, client, acceptor, lines } = await started();
    const [large, other] = [await client({ clientId: "camera-3" }), await client()];
    const before = process.memoryUsage.rss();
    const ended = new Promise((resolve) => large.once("close", () => resolve("ended")));
    large.publish(topicOf("temperature"), Buffer.alloc(10 * 1024 * 1024, 49), { qos: 1 });
    expect(await ended).toBe("ended");
    await other.publishAsync(topicOf("ph"), "8.1", { qos: 1 });
    await until(() => acceptor.counts().rejected === 1, "the packet is filed");
    const [row] = await store.readRejected(10);
    expect(row).toMatchObject({
      source: "camera-3",
      reason: expect.stringMatching(/10485\d+ bytes is over the limit of 1048576/),
    });
    expect(row?.bytes).toBeGreaterThan(10 * 1024 * 1024);
    expect(lines.join("")).toContain("camera-3");
    expect(await readingsAt(store, "ph")).toHaveLength(1);
    // The sender itself is in this process and holds its 10 MB; 60 MB leaves room for it and for the test's own noise.
    expect(process.memoryUsage.rss() - before).toBeLessThan(60 * 1024 * 1024);
  });

  it("sends its acknowledgements in the order of the messages, across commits", async () => {
    const { store, url } = await started();
    store.delayMs = 20;
    const acknowledged: number[] = [];
    const socket = connect(Number(new URL(url).port), "127.0.0.1");
    closers.push(async () => socket.destroy());
    let isConnected = false;
    socket.on(
      "data",
      answerReader((kind, id) => {
        if (kind === "connack") isConnected = true;
        else acknowledged.push(id);
      }),
    );
    socket.write(connectPacket("raw", publisher.user, publisher.password));
    await until(() => isConnected, "the connection is taken");
    const ids = Array.from({ length: 400 }, (_, n) => n + 1);
    for (const id of ids) {
      socket.write(publishPacket(topicOf("orp"), JSON.stringify({ at: 5_000 + id, value: id }), id));
      if (id % 50 === 0) await new Promise((resolve) => setTimeout(resolve, 10));
    }
    await until(() => acknowledged.length === ids.length, "all are acknowledged");
    expect(acknowledged).toEqual(ids);
    expect(store.appends).toBeGreaterThan(1);
  });

  // MQTT 3.1.1, 3.3.1.1: a packet sent again carries DUP; bit 3 of its first byte.
  it("acknowledges a packet that comes again and counts it once more as a duplicate, not as a reading", async () => {
    const { store, url } = await started();
    const socket = connect(Number(new URL(url).port), "127.0.0.1");
    closers.push(async () => socket.destroy());
    const acknowledged: number[] = [];
    socket.on(
      "data",
      answerReader((kind, id) => void (kind === "puback" && acknowledged.push(id))),
    );
    socket.write(connectPacket("raw", publisher.user, publisher.password));
    const packet = publishPacket(topicOf("orp"), '{"at":1772346600000,"value":340}', 7);
    const again = Buffer.from(packet);
    again[0] = (again[0] as number) | 0x08;
    socket.write(packet);
    await until(() => acknowledged.length === 1, "the first is acknowledged");
    socket.write(again);
    await until(() => acknowledged.length === 2, "so is the second");
    expect(acknowledged).toEqual([7, 7]);
    expect((await store.status()).counts).toMatchObject({ readings: 1, duplicates: 1, conflicts: 0 });
  });

  it("stores and acknowledges what it has received before it closes", async () => {
    const { store, broker, client } = await started();
    store.delayMs = 300;
    const sender = await client();
    const sent = sender.publishAsync(topicOf("ph"), "8.1", { qos: 1 });
    await until(() => store.appends === 1, "the commit runs");
    await broker.close();
    await sent;
    expect(await readingsAt(store, "ph")).toHaveLength(1);
  });

  it("does not start on a port that is taken", async () => {
    const { broker, acceptor } = await started();
    await expect(
      startEmbeddedBroker({ acceptor, log: keptLog().log, host: "127.0.0.1", port: broker.port, publisher }),
    ).rejects.toThrow(/EADDRINUSE/);
  });
});
