import mqtt, { type MqttClient } from "mqtt";
import { describe, expect, it } from "vitest";
import {
  acknowledgeOneByOne,
  canHoldAcknowledgements,
  holdAcknowledgements,
} from "#ingest/accept/held-acknowledgements.ts";

interface Sent {
  readonly cmd: string;
  readonly messageId?: number;
}

/** A client that is never connected to anything; what it would send is kept. */
function idleClient() {
  const client = mqtt.connect("mqtt://127.0.0.1:1", { manualConnect: true, reconnectPeriod: 0 });
  const sent: Sent[] = [];
  const inner = client as unknown as {
    _sendPacket: (packet: Sent, done?: () => void, a?: unknown, b?: unknown) => void;
  };
  inner._sendPacket = (packet: Sent, done?: () => void, _a?: unknown, _b?: unknown) => {
    sent.push(packet);
    done?.();
  };
  Object.defineProperty(inner._sendPacket, "length", { value: 4 });
  client.connected = true;
  const held = holdAcknowledgements(client);
  const message = (id: number) =>
    held.hold(held.generation(), () => inner._sendPacket({ cmd: "puback", messageId: id }, () => {}));
  return { client, sent, held, message, ids: () => sent.map((one) => one.messageId) };
}

describe("the private method of MQTT.js 5.16.0 that acknowledgements go through: without it accepting is slower", () => {
  it("is there, takes four arguments, and is what the client's handler of messages calls", () => {
    const client = mqtt.connect("mqtt://127.0.0.1:1", { manualConnect: true });
    const { _sendPacket } = client as unknown as { _sendPacket: { readonly length: number } };
    expect(typeof _sendPacket).toBe("function");
    expect(_sendPacket.length).toBe(4);
    expect(canHoldAcknowledgements(client)).toBe(true);
  });

  it.each([
    ["gone", {}],
    ["of another shape", { _sendPacket: (_packet: unknown) => {} }],
  ])("is not used where it is %s", (_, client) => {
    expect(canHoldAcknowledgements(client as unknown as MqttClient)).toBe(false);
  });
});

describe("acknowledging one by one", () => {
  function idle() {
    const client = mqtt.connect("mqtt://127.0.0.1:1", { manualConnect: true, reconnectPeriod: 0 });
    client.connected = true;
    const held = acknowledgeOneByOne(client);
    const proceeded: number[] = [];
    const message = (id: number, from = held.generation()) => held.hold(from, () => proceeded.push(id));
    return { client, held, proceeded, message };
  }

  it("goes on from a message only when it is released", () => {
    const { held, proceeded, message } = idle();
    const release = message(1);
    expect([proceeded, held.waiting()]).toEqual([[], 1]);
    release();
    expect([proceeded, held.waiting()]).toEqual([[1], 0]);
  });

  it("never goes on from a message of an earlier connection, nor of one that is lost", () => {
    const { client, held, proceeded, message } = idle();
    const [before, old] = [held.generation(), message(1)];
    client.emit("close");
    client.connected = true;
    old();
    message(2, before)();
    const lost = message(3);
    client.connected = false;
    lost();
    expect(proceeded).toEqual([]);
    client.emit("close");
    expect(held.waiting()).toBe(0);
  });
});

describe("acknowledgements that are held back", () => {
  it("go out in the order of the messages, whichever is stored first", () => {
    const { message, ids, held } = idleClient();
    const [first, second, third] = [message(1), message(2), message(3)];
    third();
    second();
    expect(ids()).toEqual([]);
    first();
    expect(ids()).toEqual([1, 2, 3]);
    expect(held.waiting()).toBe(0);
  });

  it("stop at a message that is not stored", () => {
    const { message, ids } = idleClient();
    const releases = [1, 2, 3].map(message);
    releases[0]?.();
    releases[2]?.();
    expect(ids()).toEqual([1]);
  });

  // MQTT 3.1.1, 4.3.2 and 2.3.1: a packet identifier is free again after a new connection and may then stand for another message.
  it("of an earlier connection are never sent on a later one", () => {
    const { client, message, ids } = idleClient();
    const old = message(1);
    client.emit("close");
    client.connected = true;
    const fresh = message(1);
    old();
    expect(ids()).toEqual([]);
    fresh();
    expect(ids()).toEqual([1]);
  });

  it("of a message that was still waiting to be read on when the connection ended are dropped", () => {
    const { client, held, ids } = idleClient();
    const inner = client as unknown as { _sendPacket: (packet: Sent, done: () => void) => void };
    const from = held.generation();
    client.emit("close");
    client.connected = true;
    let wentOn = false;
    const release = held.hold(from, () =>
      inner._sendPacket({ cmd: "puback", messageId: 9 }, () => (wentOn = true)),
    );
    release();
    expect(wentOn).toBe(true);
    expect(ids()).toEqual([]);
  });

  it("are not left with a client that has lost its connection: it would send them on the next", () => {
    const { client, message, ids } = idleClient();
    const release = message(1);
    client.connected = false;
    release();
    expect(ids()).toEqual([]);
  });

  it("leave every other packet alone", () => {
    const { client, sent } = idleClient();
    (client as unknown as { _sendPacket: (packet: Sent) => void })._sendPacket({ cmd: "pingreq" });
    expect(sent).toEqual([{ cmd: "pingreq" }]);
  });
});
