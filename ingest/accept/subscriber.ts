import mqtt, { type IClientOptions, type IPublishPacket, MQTTJS_VERSION, type MqttClient } from "mqtt";
import type { Logger } from "pino";
import { PAYLOAD_LIMIT, TOPIC_ROOT } from "#core/gateway/index.ts";
import type { Acceptor } from "#services/gateway/accept-message.ts";
import {
  acknowledgeOneByOne,
  canHoldAcknowledgements,
  holdAcknowledgements,
} from "./held-acknowledgements.ts";
import { createTroubleLog } from "./trouble-log.ts";

export interface SubscriberOptions {
  readonly acceptor: Acceptor;
  readonly log: Logger;
  /** Address of the broker. */
  readonly url: string;
  /** The same at every start, and no other client's: the broker keeps what comes while we are away under it. */
  readonly clientId: string;
  readonly user?: string | null;
  readonly password?: string | null;
  /** Site whose `status` topic carries our last will. */
  readonly site?: string | null;
  readonly keepaliveSeconds?: number;
  readonly reconnectMs?: number;
  /** Starts with MQTT 5 and falls back to 3.1.1 where the broker refuses that. */
  readonly protocolVersion?: 4 | 5;
}
export interface SubscriberCounts {
  readonly isConnected: boolean;
  readonly connections: number;
  /** Times the broker had forgotten our session: what came meanwhile may be missing. */
  readonly sessionsLost: number;
  readonly unacknowledged: number;
  readonly protocolVersion: 4 | 5;
}
export interface Subscriber {
  /** Resolves with the first subscription in force. */
  readonly ready: Promise<void>;
  counts(): SubscriberCounts;
  publishStatus(site: string, state: object): Promise<void>;
  close(): Promise<void>;
}

const READINGS = `${TOPIC_ROOT}/+/+/+/+`;
/** Messages that may be on their way to us unacknowledged: enough for full commits, little enough to bound memory. */
const RECEIVE_MAXIMUM = 2_000;
/** How long the broker keeps our session: the longest outage after which nothing is missing. */
const SESSION_SECONDS = 7 * 24 * 3_600;
const UNSUPPORTED_VERSION = [1, 132];

/**
 * Takes in the messages of an external broker. A PUBACK goes out only after the commit that holds its message, in the order of
 * arrival; where a commit fails the connection is dropped, because a broker sends again only after a reconnect [MQTT-4.4.0-1].
 */
export function startSubscriber(options: SubscriberOptions): Subscriber {
  const { acceptor, log } = options;
  const { host } = new URL(options.url);
  const trouble = createTroubleLog(log);
  let version = options.protocolVersion ?? 5;
  let connections = 0;
  let sessionsLost = 0;
  let isClosing = false;
  let client: MqttClient;
  let waiting = () => 0;
  let isReady: () => void;
  const ready = new Promise<void>((resolve) => {
    isReady = resolve;
  });

  function connect(): void {
    client = mqtt.connect(options.url, connectOptions(options, version));
    const current = client;
    const isHeld = canHoldAcknowledgements(current);
    if (!isHeld)
      log.warn(
        { url: host },
        `MQTT.js ${MQTTJS_VERSION} has internals this program does not recognise: messages are acknowledged one by one, which is slower; none is lost`,
      );
    const acknowledgements = (isHeld ? holdAcknowledgements : acknowledgeOneByOne)(current);
    waiting = acknowledgements.waiting;

    current.handleMessage = (packet, proceed) => {
      const from = acknowledgements.generation();
      const goOn = () => take(packet, (done) => acknowledgements.hold(from, done), proceed, from);
      if (acceptor.isPressed()) void acceptor.relief().then(goOn);
      else goOn();
    };

    function take(
      packet: IPublishPacket,
      hold: (proceed: () => void) => () => void,
      proceed: () => void,
      from: number,
    ): void {
      // A message on a topic of our own is settled before its acknowledgement is held.
      let release: (() => void) | null = null;
      let isStored = false;
      acceptor.acceptThen(
        {
          topic: packet.topic,
          payload: typeof packet.payload === "string" ? Buffer.from(packet.payload) : packet.payload,
          client: host,
          dup: packet.dup,
          retain: packet.retain,
          qos: packet.qos,
        },
        (error, receipt) => {
          if (receipt === null) {
            trouble.notStored(error, packet.topic);
            if (from === acknowledgements.generation() && current.connected) current.stream.destroy();
            return;
          }
          if (receipt.outcome === "rejected")
            log.info({ topic: packet.topic, reason: receipt.reason }, "rejected a message");
          isStored = true;
          release?.();
        },
      );
      release = hold(proceed);
      if (isStored) release();
    }

    current.on("connect", (answer) => {
      connections += 1;
      if (connections > 1 && !answer.sessionPresent) {
        sessionsLost += 1;
        log.warn("the broker had lost our session: messages sent in the meantime may be missing");
      }
      // Retained messages only when the subscription is new.
      current.subscribe({ [READINGS]: version === 5 ? { qos: 1, rh: 1 } : { qos: 1 } }, (error, granted) => {
        if (error || granted?.some((one) => one.qos !== 1)) {
          log.error({ trouble: error?.message }, `the broker does not grant QoS 1 on ${READINGS}`);
          return;
        }
        log.info({ url: host, version }, "subscribed");
        isReady();
      });
    });
    current.on("error", (error) => {
      const code = "code" in error ? Number(error.code) : null;
      if (version === 5 && code !== null && UNSUPPORTED_VERSION.includes(code) && !isClosing) {
        log.info("the broker does not support MQTT 5: continuing with 3.1.1");
        version = 4;
        current.end(true, () => connect());
        return;
      }
      log.warn({ trouble: error.message }, "the broker connection failed");
    });
    current.on("offline", () => {
      if (!isClosing) log.warn({ url: host }, "the broker cannot be reached: trying again");
    });
  }
  connect();

  return {
    ready,
    counts: () => ({
      isConnected: client.connected,
      connections,
      sessionsLost,
      unacknowledged: waiting(),
      protocolVersion: version,
    }),
    async publishStatus(site, state) {
      if (!client.connected) return;
      await client.publishAsync(`${TOPIC_ROOT}/${site}/status`, JSON.stringify(state), {
        qos: 0,
        retain: true,
      });
    },
    async close() {
      isClosing = true;
      await acceptor.drained();
      await new Promise<void>((resolve) => setImmediate(resolve));
      await client.endAsync();
    },
  };
}

function connectOptions(options: SubscriberOptions, version: 4 | 5): IClientOptions {
  const { site, user, password } = options;
  const will = site
    ? {
        topic: `${TOPIC_ROOT}/${site}/status`,
        payload: Buffer.from('{"state":"down"}'),
        qos: 1 as const,
        retain: true,
      }
    : undefined;
  return {
    clientId: options.clientId,
    clean: false,
    protocolVersion: version,
    keepalive: options.keepaliveSeconds ?? 30,
    reconnectPeriod: options.reconnectMs ?? 1_000,
    connectTimeout: 10_000,
    reconnectOnConnackError: true,
    resubscribe: false,
    queueQoSZero: false,
    ...(user ? { username: user } : {}),
    ...(password ? { password } : {}),
    ...(will ? { will } : {}),
    ...(version === 5
      ? {
          properties: {
            sessionExpiryInterval: SESSION_SECONDS,
            receiveMaximum: RECEIVE_MAXIMUM,
            // A topic and the packet's own fields come on top of a payload.
            maximumPacketSize: 2 * PAYLOAD_LIMIT,
          },
        }
      : {}),
  };
}
