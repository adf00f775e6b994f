import { createHash, timingSafeEqual } from "node:crypto";
import { type AddressInfo, createServer, type Socket } from "node:net";
import { Duplex } from "node:stream";
import { Aedes, type AuthenticateError, type Client, type PublishPacket } from "aedes";
import type { Logger } from "pino";
import { TOPIC_ROOT } from "#core/gateway/index.ts";
import type { Acceptor } from "#services/gateway/accept-message.ts";
import type { Message, Receipt } from "#services/gateway/message.ts";
import { canLimitPackets, limitPackets, limitStream, PacketTooLarge } from "./packet-limit.ts";
import { canTakePackets, type PublishTaker, takePublishPackets } from "./publish-packets.ts";
import { createTroubleLog } from "./trouble-log.ts";

export interface EmbeddedBrokerOptions {
  readonly acceptor: Acceptor;
  readonly log: Logger;
  readonly host: string;
  /** 0 = any free port; the one taken is in what comes back. */
  readonly port: number;
  /** Who may publish. Publishing requires a name and a password. */
  readonly publisher: { readonly user: string; readonly password: string };
  /** Bytes of the largest packet that is read at all; larger ones end the connection. */
  readonly packetLimit?: number;
}
export interface EmbeddedBroker {
  readonly port: number;
  /** Publishes the state of accepting, retained, on `homewater/<site>/status`. */
  publishStatus(site: string, state: object): Promise<void>;
  close(): Promise<void>;
}

/** Large enough that a payload over its own limit is still read, filed and answered; small enough for a thousand senders at once. */
const PACKET_LIMIT = 1024 * 1024;
const CONNECTIONS = 2_000;
const BAD_USER_OR_PASSWORD = 4;
/** Where a message goes that was not taken: nobody may subscribe to it, so it reaches nobody. */
const NOWHERE = "$refused";

/**
 * A broker in this process. A QoS 1 message is acknowledged only after the commit that holds it: its acknowledgement is sent from here,
 * or, where the broker's library has changed, accepting runs inside its publish authorisation, which comes before its PUBACK. Where the store fails there is no PUBACK and the connection
 * ends, so that the sender's client sends again. Resolves when it listens; rejects where the port is taken.
 */
export async function startEmbeddedBroker(options: EmbeddedBrokerOptions): Promise<EmbeddedBroker> {
  const { acceptor, log, publisher, packetLimit = PACKET_LIMIT } = options;

  const broker = await Aedes.createBroker({
    connectTimeout: 10_000,
    // Packets that a client may send before its CONNECT has been answered.
    queueLimit: 1_000,
    authenticate(client, user, password, done) {
      const isKnown = isSame(user ?? "", publisher.user) && isSame(password ?? "", publisher.password);
      if (isKnown) return done(null, true);
      log.warn({ client: client.id, user }, "refused a connection: user or password is wrong");
      const error = Object.assign(new Error("user or password is wrong"), {
        returnCode: BAD_USER_OR_PASSWORD,
      });
      done(error as AuthenticateError, false);
    },
    // Messages with QoS 0 or 2, and last wills; those with QoS 1 too where they cannot be taken before they come here.
    authorizePublish,
    authorizeSubscribe(client, subscription, done) {
      if (!subscription.topic.startsWith(`${TOPIC_ROOT}/`)) {
        log.warn(
          { client: client.id, topic: subscription.topic },
          `refused a subscription outside ${TOPIC_ROOT}/`,
        );
        return done(null, null);
      }
      if (!client.clean && subscription.qos > 0) {
        log.warn(
          { client: client.id, topic: subscription.topic },
          "refused a subscription: nothing is queued for absent subscribers; use QoS 0 or a clean session",
        );
        return done(null, null);
      }
      done(null, subscription);
    },
  });

  const can = abilitiesOf(broker);
  if (!can.takePackets || !can.limitPackets)
    log.warn(
      can,
      `aedes ${(broker as { version?: string }).version} has internals this program does not recognise: accepting is slower, but no message is lost`,
    );
  const isListening = passOnOnlyToListeners(broker);
  const trouble = createTroubleLog(log);

  function messageOf(client: Client | null, packet: PublishPacket): Message {
    return {
      topic: packet.topic,
      payload: bytesOf(packet.payload),
      client: client?.id ?? "(no client)",
      dup: packet.dup ?? false,
      retain: packet.retain,
      qos: packet.qos,
    };
  }
  function authorizePublish(
    client: Client | null,
    packet: PublishPacket,
    done: (error?: Error | null) => void,
  ): void {
    acceptor.acceptThen(messageOf(client, packet), (error, receipt) => {
      if (receipt === null) return done(trouble.notStored(error, packet.topic));
      tidy(packet, client, receipt);
      done(null);
    });
  }
  const publishes: PublishTaker = {
    take(client, packet, acknowledger) {
      acceptor.acceptThen(messageOf(client, packet), (error, receipt) => {
        if (receipt === null) return acknowledger.fail(trouble.notStored(error, packet.topic));
        acknowledger.release(packet);
        tidy(packet, client, receipt);
        if (isListening()) passOn(packet, client);
      });
    },
    isPressed: acceptor.isPressed,
    relief: acceptor.relief,
  };

  function passOn(packet: PublishPacket, client: Client): void {
    // The broker's own publish takes the client between the packet and the callback.
    (broker.publish as PassOn)(packet, client, (error) => {
      if (error) log.warn({ topic: packet.topic, trouble: error.message }, "could not pass a message on");
    });
  }

  /** What the broker passes on of a message that has been dealt with: of one that was not taken, nothing. */
  function tidy(packet: PublishPacket, client: Client | null, receipt: Receipt): void {
    // The store keeps readings; a retained copy in the broker would come back later as if it were new.
    packet.retain = false;
    if (receipt.outcome === "accepted" || receipt.outcome === "unclaimed") return;
    if (receipt.outcome === "rejected")
      log.info({ client: client?.id, topic: packet.topic, reason: receipt.reason }, "rejected a message");
    else
      log.warn(
        { client: client?.id, topic: packet.topic },
        "ignored a message on one of Homewater's own topics",
      );
    packet.topic = NOWHERE;
    packet.payload = Buffer.alloc(0);
  }

  broker.on("clientError", (client, error) => {
    log.warn({ client: client.id, trouble: error.message }, "ended a connection");
    if (error instanceof PacketTooLarge)
      acceptor
        .reject(
          { topic: "(not read)", payload: new Uint8Array(), client: client.id },
          error.message,
          error.bytes,
        )
        .catch((trouble: Error) =>
          log.error({ trouble: trouble.message }, "could not record a packet that was too large"),
        );
  });
  broker.on("connectionError", (_client, error) =>
    log.warn({ trouble: error.message }, "ended a connection before it was established"),
  );

  const sockets = new Set<Socket>();
  const server = createServer((socket) => {
    sockets.add(socket);
    socket.once("close", () => sockets.delete(socket));
    socket.setNoDelay(true);
    const stream = can.limitPackets ? socket : limitStream(socket, packetLimit);
    const client = broker.handle(stream);
    if (can.limitPackets) limitPackets(client, packetLimit);
    if (can.takePackets) takePublishPackets(client, stream, publishes);
  });
  server.maxConnections = CONNECTIONS;
  await new Promise<void>((resolve, reject) => {
    server.once("error", reject);
    server.listen(options.port, options.host, resolve);
  });
  server.on("error", (error) => log.error({ trouble: error.message }, "the listening port failed"));
  const { port } = server.address() as AddressInfo;

  return {
    port,
    publishStatus: (site, state) =>
      new Promise((resolve, reject) => {
        broker.publish(
          {
            cmd: "publish",
            topic: `${TOPIC_ROOT}/${site}/status`,
            payload: Buffer.from(JSON.stringify(state)),
            qos: 0,
            retain: true,
            dup: false,
          },
          (error) => (error ? reject(error) : resolve()),
        );
      }),
    async close() {
      const closed = new Promise<void>((resolve) => server.close(() => resolve()));
      // What has been received is stored and acknowledged before the connections end.
      await acceptor.drained();
      await new Promise<void>((resolve) => setImmediate(resolve));
      await new Promise<void>((resolve) => broker.close(resolve));
      for (const socket of sockets) socket.destroy();
      await closed;
    },
  };
}

/** What the broker's library lets this do beyond its public interface, looked up on a connection that leads nowhere. */
function abilitiesOf(broker: Aedes): { readonly takePackets: boolean; readonly limitPackets: boolean } {
  const client = broker.handle(new Duplex({ read() {}, write: (_chunk, _encoding, done) => done() }));
  const can = { takePackets: canTakePackets(client), limitPackets: canLimitPackets(client) };
  client.close();
  return can;
}

/**
 * Passes messages on only while somebody listens. Usually nobody does, and looking for subscribers of every message would take
 * a third of the broker's time. Nothing is ever queued for a subscriber that is away, so nothing is missed.
 */
function passOnOnlyToListeners(broker: Aedes): () => boolean {
  const listening = new Set<Client>();
  broker.on("subscribe", (_subscriptions, client) => void listening.add(client));
  // A kept session comes back with its subscriptions and does not subscribe again.
  broker.on("clientReady", (client) => void (client.clean || listening.add(client)));
  broker.on("clientDisconnect", (client) => void listening.delete(client));
  const passOn = broker.publish.bind(broker) as PassOn;
  const onlyToListeners: PassOn = (packet, client, done) => {
    if (typeof client === "function") passOn(packet, client);
    else if (listening.size > 0 || client === null) passOn(packet, client, done);
    else done?.();
  };
  broker.publish = onlyToListeners as Aedes["publish"];
  return () => listening.size > 0;
}
/** The broker calls its own `publish` with the publishing client between packet and callback. */
type PassOn = (packet: PublishPacket, client: unknown, done?: (error?: Error) => void) => void;

function bytesOf(payload: Buffer | string): Buffer {
  return typeof payload === "string" ? Buffer.from(payload) : payload;
}

/** Compares in a time that does not show how much was right. */
function isSame(given: string | Buffer, wanted: string): boolean {
  const digest = (text: string | Buffer) => createHash("sha256").update(text).digest();
  return timingSafeEqual(digest(given), digest(wanted));
}
