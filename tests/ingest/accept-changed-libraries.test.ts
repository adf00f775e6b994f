import { createServer } from "node:net";
import { Aedes, type Client } from "aedes";
import mqtt, { MqttClient } from "mqtt";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { startEmbeddedBroker } from "#ingest/accept/embedded-broker.ts";
import { startSubscriber } from "#ingest/accept/subscriber.ts";
import { createAcceptor } from "#services/gateway/accept-message.ts";
import { temporaryStore } from "../helpers/open-store.ts";
import { describeEdge, type EdgeUnderTest } from "./accept-edge-suite.ts";
import { keptLog, topicOf, until } from "./accept-parts.ts";

// Real libraries that work as they did, with their private parts under other names: accepting is slower and all else holds.

const publisher = { user: "gateway", password: "kelp-forest-7" };

interface Inner {
  readonly _parser: {
    _states: string[];
    _parseLength?: unknown;
    _parseRemainingLength?: unknown;
    on(event: "packet", listener: () => void): void;
  };
}
function takesPacketsDifferently(client: Client): void {
  (client as unknown as Inner)._parser.on("packet", () => {});
}
function readsLengthsDifferently(client: Client): void {
  const { _parser: parser } = client as unknown as Inner;
  parser._parseRemainingLength = parser._parseLength;
  parser._parseLength = undefined;
  parser._states = parser._states.map((name) => (name === "_parseLength" ? "_parseRemainingLength" : name));
}

/** The embedded broker on a broker library whose clients have been changed. */
function embeddedWith(name: string, warns: RegExp, ...changes: ((client: Client) => void)[]): EdgeUnderTest {
  return {
    name,
    isEmbedded: true,
    async start(acceptor) {
      const create = Aedes.createBroker;
      const changed = vi.spyOn(Aedes, "createBroker").mockImplementation(async (options) => {
        const broker = await create.call(Aedes, options);
        const handle = broker.handle;
        broker.handle = (stream, request) => {
          const client = handle(stream, request);
          for (const change of changes) change(client);
          return client;
        };
        return broker;
      });
      const { lines, log } = keptLog();
      const broker = await startEmbeddedBroker({ acceptor, log, host: "127.0.0.1", port: 0, publisher });
      changed.mockRestore();
      expect(lines.join("")).toMatch(warns);
      return {
        url: `mqtt://127.0.0.1:${broker.port}`,
        publisher: { username: publisher.user, password: publisher.password },
        close: () => broker.close(),
      };
    },
  };
}
const SLOWER = /aedes 1\.2\.0 has internals this program does not recognise/;
describeEdge(
  embeddedWith("a broker whose clients take packets differently", SLOWER, takesPacketsDifferently),
);
describeEdge(
  embeddedWith("a broker whose parser reads lengths differently", SLOWER, readsLengthsDifferently),
);
describeEdge(
  embeddedWith("a broker with both changed", SLOWER, takesPacketsDifferently, readsLengthsDifferently),
);

it("a parser that reads lengths differently: a packet over the limit still ends its connection and is filed", async () => {
  const opened = await temporaryStore();
  const acceptor = createAcceptor({ store: opened.store, clock: Date.now });
  const edge = await embeddedWith("", SLOWER, readsLengthsDifferently).start(acceptor);
  const client = await mqtt.connectAsync(edge.url, { reconnectPeriod: 0, ...edge.publisher });
  const ended = new Promise((resolve) => client.once("close", () => resolve("ended")));
  client.on("error", () => {
    // The broker ends the connection on purpose.
  });
  client.publish(topicOf("temperature"), Buffer.alloc(2 * 1024 * 1024, 49), { qos: 1 });
  expect(await ended).toBe("ended");
  await until(() => acceptor.counts().rejected === 1, "the packet is filed");
  expect(await opened.store.readRejected(10)).toMatchObject([
    { reason: expect.stringMatching(/is over the limit/) },
  ]);
  await client.endAsync(true);
  await edge.close();
  await opened.dispose();
});

describe("an MQTT client that sends its packets differently", () => {
  const prototype = MqttClient.prototype as unknown as { _sendPacket: (...sent: unknown[]) => void };
  const original = prototype._sendPacket;
  beforeAll(() => {
    prototype._sendPacket = function changed(this: MqttClient, ...sent: unknown[]) {
      return original.apply(this, sent);
    };
  });
  afterAll(() => {
    prototype._sendPacket = original;
  });

  describeEdge({
    name: "a subscriber",
    isEmbedded: false,
    isOneByOne: true,
    isWithoutEmptyLevels: true,
    async start(acceptor) {
      const broker = await Aedes.createBroker();
      const server = createServer(broker.handle);
      await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
      const address = server.address();
      const url = `mqtt://127.0.0.1:${typeof address === "object" && address ? address.port : 0}`;
      const { lines, log } = keptLog();
      const subscriber = startSubscriber({
        acceptor,
        log,
        url,
        clientId: "homewater-test",
        reconnectMs: 100,
        protocolVersion: 4,
      });
      await subscriber.ready;
      expect(lines.join("")).toMatch(/MQTT\.js \d+\.\d+\.\d+ has internals this program does not recognise/);
      return {
        url,
        publisher: {},
        async close() {
          await subscriber.close();
          await new Promise<void>((resolve) => broker.close(resolve));
          server.close();
        },
      };
    },
  });
});
