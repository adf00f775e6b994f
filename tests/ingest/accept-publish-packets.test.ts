import { Duplex } from "node:stream";
import { Aedes, type Client } from "aedes";
import { describe, expect, it } from "vitest";
import { takePublishPackets } from "#ingest/accept/publish-packets.ts";

const taker = { take() {}, isPressed: () => false, relief: () => Promise.resolve() };

describe("acknowledging together leans on private parts of aedes 1.2.0", () => {
  it("which are still built as expected", async () => {
    const broker = await Aedes.createBroker();
    const stream = new Duplex({ read() {}, write: (_chunk, _encoding, done) => done() });
    const client = broker.handle(stream) as unknown as Record<string, unknown> & {
      _parser: { listenerCount(event: string): number };
    };
    expect(client._parser.listenerCount("packet")).toBe(1);
    expect(client).toMatchObject({
      connackSent: false,
      _keepaliveInterval: -1,
      _keepaliveTimer: null,
      pause: expect.any(Function),
      resume: expect.any(Function),
    });
    stream.destroy();
    await new Promise<void>((resolve) => broker.close(resolve));
  });

  it("and where they are not, no broker starts", () => {
    const socket = new Duplex() as unknown as Parameters<typeof takePublishPackets>[1];
    expect(() => takePublishPackets({} as Client, socket, taker)).toThrow(/cannot be acknowledged together/);
  });
});
