import type { Duplex } from "node:stream";
import type { Client, PublishPacket } from "aedes";

/** The private parts of the broker's client that this relies on; where they have changed, the broker takes the messages itself. */
interface Inner {
  readonly _parser: {
    readonly _queue: unknown;
    listeners(event: "packet"): ((packet: Packet) => void)[];
    removeAllListeners(event: "packet"): void;
    on(event: "packet", listener: (packet: Packet) => void): void;
  };
  readonly connackSent: boolean;
  readonly _keepaliveInterval: number;
  readonly _keepaliveTimer: { refresh(): void } | null;
  pause(): void;
  resume(): void;
}
interface Packet {
  readonly cmd: string;
}
export type QosOnePacket = PublishPacket & { readonly messageId: number; readonly payload: Buffer };

/** One connection, to say what became of its messages. */
export interface Acknowledger {
  /** Lets the acknowledgement go. Called in the order of the messages. */
  release(packet: QosOnePacket): void;
  /** Ends the connection: nothing more is acknowledged on it. */
  fail(error: Error): void;
}
export interface PublishTaker {
  /** Stores the message, then calls one of the two with it. */
  take(client: Client, packet: QosOnePacket, acknowledger: Acknowledger): void;
  /** True while no more should be read; `relief` resolves when that is over. */
  isPressed(): boolean;
  relief(): Promise<void>;
}

/** Whether the broker's client is built as `takePublishPackets` needs it. */
export function canTakePackets(client: Client): boolean {
  const inner = client as unknown as Partial<Inner>;
  return (
    inner._parser?.listeners?.("packet").length === 1 &&
    typeof inner.pause === "function" &&
    typeof inner.resume === "function" &&
    typeof inner.connackSent === "boolean" &&
    typeof inner._keepaliveInterval === "number"
  );
}

const PUBACK = 0x40;
/** What the broker itself ends a connection for: it goes on seeing to those. */
const isUnusable = (topic: string) => topic === "" || topic.includes("+") || topic.includes("#");

/**
 * Takes a client's QoS 1 messages from the broker's parser and sends their acknowledgements itself: those that one commit releases in
 * one write, in the order of the messages [MQTT-4.6.0-2]. The broker alone would read no further until all it had read was stored,
 * so that decoding and committing took turns, and would spend a timer and a write on every acknowledgement. Everything else stays
 * with the broker. Reading stops while the acceptor is pressed, or the sender does not read its acknowledgements.
 * Only for a client of which `canTakePackets` is true.
 */
export function takePublishPackets(client: Client, socket: Duplex, taker: PublishTaker): void {
  const inner = client as unknown as Inner;
  const [ordinary] = inner._parser.listeners("packet") as [(packet: Packet) => void];

  let released: number[] = [];
  let isFailed = false;
  let holds = 0;

  function hold(until: (resume: () => void) => void): void {
    holds += 1;
    inner.pause();
    until(() => {
      holds -= 1;
      if (holds === 0 && !client.closed) inner.resume();
    });
  }

  function flush(): void {
    const ids = released;
    released = [];
    if (isFailed || socket.destroyed) return;
    const bytes = Buffer.allocUnsafe(ids.length * 4);
    for (let index = 0; index < ids.length; index += 1) {
      const id = ids[index] as number;
      const at = index * 4;
      bytes[at] = PUBACK;
      bytes[at + 1] = 2;
      bytes[at + 2] = id >> 8;
      bytes[at + 3] = id & 0xff;
    }
    if (!socket.write(bytes)) hold((resume) => socket.once("drain", resume));
  }

  const acknowledger: Acknowledger = {
    release(packet) {
      if (isFailed) return;
      if (released.length === 0) process.nextTick(flush);
      released.push(packet.messageId);
    },
    fail(error) {
      // Once is enough: the connection ends with all that is still on its way.
      if (isFailed) return;
      isFailed = true;
      if (!client.closed) client.emit("error", error);
    },
  };

  function publish(packet: QosOnePacket): void {
    if (inner._keepaliveInterval > 0) inner._keepaliveTimer?.refresh();
    taker.take(client, packet, acknowledger);
    if (holds === 0 && taker.isPressed()) hold((resume) => void taker.relief().then(resume));
  }

  inner._parser.removeAllListeners("packet");
  inner._parser.on("packet", (packet) => {
    if (packet.cmd === "publish" && inner.connackSent) {
      const message = packet as unknown as QosOnePacket;
      if (message.qos === 1 && !isUnusable(message.topic)) return publish(message);
    }
    ordinary.call(inner._parser, packet);
  });
}
