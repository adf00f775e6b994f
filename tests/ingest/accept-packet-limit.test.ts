import { Duplex } from "node:stream";
import { Aedes } from "aedes";
import { describe, expect, it } from "vitest";
import { limitPackets } from "#ingest/accept/packet-limit.ts";

describe("the limit on packets leans on a private part of aedes 1.2.0 and of its parser", () => {
  it("which is still built as expected", async () => {
    const broker = await Aedes.createBroker();
    const stream = new Duplex({ read() {}, write: (_chunk, _encoding, done) => done() });
    const client = broker.handle(stream) as unknown as { _parser: Record<string, unknown> };
    expect(client._parser).toMatchObject({
      _parseLength: expect.any(Function),
      _emitError: expect.any(Function),
      packet: { length: -1 },
      _states: ["_parseHeader", "_parseLength", "_parsePayload", "_newPacket"],
    });
    stream.destroy();
    await new Promise<void>((resolve) => broker.close(resolve));
  });

  it("and where it is not, no broker starts without a limit", () => {
    expect(() => limitPackets({} as Parameters<typeof limitPackets>[0], 1)).toThrow(
      /size limit cannot be set/,
    );
  });
});
