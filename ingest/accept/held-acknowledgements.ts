import type { MqttClient } from "mqtt";

interface Packet {
  readonly cmd: string;
  readonly messageId?: number;
}
type SendPacket = (packet: Packet, done?: (error?: Error) => void, ...rest: unknown[]) => void;
interface Held {
  readonly packet: Packet;
  isReleased: boolean;
}

export interface HeldAcknowledgements {
  /** Counts the connections: a message belongs to the one it came by. */
  generation(): number;
  /**
   * Keeps back the acknowledgement of a message of that connection (`proceed` is its handler's callback). What comes back releases
   * it: it goes out as soon as all earlier ones have. Of an earlier connection nothing goes out.
   */
  hold(generation: number, proceed: () => void): () => void;
  /** How many wait. */
  waiting(): number;
}

/** The private method of MQTT.js 5.16.0 through which every packet is sent: packet, callback, two more. */
const PARAMETERS = 4;
/** Whether the client sends its packets as `holdAcknowledgements` needs it. */
export function canHoldAcknowledgements(client: MqttClient): boolean {
  const { _sendPacket } = client as unknown as { readonly _sendPacket?: SendPacket };
  return typeof _sendPacket === "function" && _sendPacket.length === PARAMETERS;
}

/** The queue is made short again when this many of it have been sent: to copy it for each one would cost more than sending. */
const SENT_KEPT = 1_000;

/**
 * Holds back the PUBACKs an MQTT.js client sends for received messages until they are released, and lets them go in the order in
 * which the messages came [MQTT-4.6.0-2]. The client goes on reading meanwhile, so that many messages share a commit and
 * its keepalive is answered. An acknowledgement is never sent on a later connection than its message's: there its packet
 * identifier may stand for another message, which would be lost.
 * Intercepts one private method: only for a client of which `canHoldAcknowledgements` is true; otherwise `acknowledgeOneByOne`.
 */
export function holdAcknowledgements(client: MqttClient): HeldAcknowledgements {
  const inner = client as unknown as { _sendPacket: SendPacket };
  const sendPacket = inner._sendPacket.bind(client);
  let queue: Held[] = [];
  /** Of `queue`, the one that must go first. */
  let first = 0;
  let generation = 0;
  let catching: { held: Held | null; readonly isStale: boolean } | null = null;

  const begin = () => {
    generation += 1;
    queue = [];
    first = 0;
  };
  client.on("close", begin);

  inner._sendPacket = (packet, done, ...rest) => {
    if (packet.cmd !== "puback") return sendPacket(packet, done, ...rest);
    if (catching === null)
      throw new Error("an acknowledgement was about to be sent for a message that was not stored");
    if (!catching.isStale) {
      catching.held = { packet, isReleased: false };
      queue.push(catching.held);
    }
    done?.();
  };

  function flush(): void {
    for (let held = queue[first]; held?.isReleased; held = queue[first]) {
      first += 1;
      // Not connected: the client would keep the packet and send it on the next connection.
      if (client.connected) sendPacket(held.packet);
    }
    if (first > SENT_KEPT) {
      queue = queue.slice(first);
      first = 0;
    }
  }

  return {
    generation: () => generation,
    hold(from, proceed) {
      const caught: NonNullable<typeof catching> = { held: null, isStale: from !== generation };
      catching = caught;
      proceed();
      catching = null;
      return () => {
        if (caught.held === null || from !== generation) return;
        caught.held.isReleased = true;
        flush();
      };
    },
    waiting: () => queue.length - first,
  };
}

/**
 * The same with what the client offers to everybody: it goes on, and acknowledges, only when the message is released. So each
 * message has a commit of its own and nothing else is read meanwhile, which is slow.
 */
export function acknowledgeOneByOne(client: MqttClient): HeldAcknowledgements {
  let generation = 0;
  let waiting = 0;
  client.on("close", () => {
    generation += 1;
    waiting = 0;
  });
  return {
    generation: () => generation,
    hold(from, proceed) {
      if (from !== generation) return () => undefined;
      waiting += 1;
      return () => {
        // Not connected: the client would keep the acknowledgement and send it on the next connection.
        if (from !== generation || !client.connected) return;
        waiting -= 1;
        proceed();
      };
    },
    waiting: () => waiting,
  };
}
