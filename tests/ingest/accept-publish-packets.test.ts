import { Duplex } from "node:stream";
import { Aedes, type Client } from "aedes";
import { describe, expect, it } from "vitest";
import { canTakePackets } from "#ingest/accept/publish-packets.ts";

describe("acknowledging together leans on private parts of aedes 1.2.0: without them accepting is slower", () => {
  it("and they are still built as expected", async () => {
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
    expect(canTakePackets(client as unknown as Client)).toBe(true);
    stream.destroy();
    await new Promise<void>((resolve) => broker.close(resolve));
  });

  it.each([
    ["without a parser", {}],
    ["with a second listener", { _parser: { listeners: () => [() => {}, () => {}] } }],
    ["that cannot be paused", { _parser: { listeners: () => [() => {}] }, connackSent: false }],
  ])("a client %s is left to the broker", (_, client) => {
    expect(canTakePackets(client as unknown as Client)).toBe(false);
  });
});
