import { Duplex } from "node:stream";
import { Aedes, type Client } from "aedes";
import { describe, expect, it } from "vitest";
import { canLimitPackets, limitStream } from "#ingest/accept/packet-limit.ts";

describe("the limit on packets leans on a private part of aedes 1.2.0 and of its parser: without it accepting is slower", () => {
  it("and it is still built as expected", async () => {
    const broker = await Aedes.createBroker();
    const stream = new Duplex({ read() {}, write: (_chunk, _encoding, done) => done() });
    const client = broker.handle(stream) as unknown as { _parser: Record<string, unknown> };
    expect(client._parser).toMatchObject({
      _parseLength: expect.any(Function),
      _emitError: expect.any(Function),
      packet: { length: -1 },
      _states: ["_parseHeader", "_parseLength", "_parsePayload", "_newPacket"],
    });
    expect(canLimitPackets(client as unknown as Client)).toBe(true);
    stream.destroy();
    await new Promise<void>((resolve) => broker.close(resolve));
  });

  it("and a parser of another shape is seen", () => {
    expect(canLimitPackets({ _parser: {} } as unknown as Client)).toBe(false);
  });
});

describe("the limit without the broker's parser", () => {
  /** A packet with so many bytes after its length; 0x30 is PUBLISH with QoS 0. Lengths: MQTT 3.1.1, section 2.2.3. */
  const packet = (bytes: number): Buffer => {
    const length: number[] = [];
    for (let rest = bytes; length.length === 0 || rest > 0; rest = Math.floor(rest / 128))
      length.push((rest % 128) | (rest >= 128 ? 128 : 0));
    return Buffer.concat([Buffer.from([0x30, ...length]), Buffer.alloc(bytes, 0xff)]);
  };
  async function through(limit: number, sent: Buffer, pieces: number): Promise<Buffer> {
    const socket = new Duplex({ read() {}, write: (_chunk, _encoding, done) => done() });
    const limited = limitStream(socket, limit);
    for (let at = 0; at < sent.length; at += pieces) socket.push(sent.subarray(at, at + pieces));
    socket.push(null);
    const read: Buffer[] = [];
    for await (const chunk of limited) read.push(chunk as Buffer);
    return Buffer.concat(read);
  }

  it.each([1, 3, 100_000])(
    "lets packets up to the limit through unchanged, in pieces of %i bytes",
    async (pieces) => {
      const sent = Buffer.concat([0, 300, 2, 127, 128, 300].map(packet));
      expect(await through(300, sent, pieces)).toEqual(sent);
    },
  );

  it.each([1, 3, 100_000])("fails at the first larger one, in pieces of %i bytes", async (pieces) => {
    const sent = Buffer.concat([300, 301].map(packet));
    await expect(through(300, sent, pieces)).rejects.toThrow("packet of 301 bytes is over the limit of 300");
  });
});
