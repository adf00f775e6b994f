import type { Client } from "aedes";

/** The part of the broker's packet parser that this limit leans on; `tests/ingest/accept-packet-limit.test.ts` fails when it changes. */
interface Parser {
  packet: { length: number; cmd: string };
  _parseLength(): boolean;
  _emitError(error: Error): boolean;
}

export class PacketTooLarge extends Error {
  readonly bytes: number;
  constructor(bytes: number, limit: number) {
    super(`packet of ${bytes} bytes is over the limit of ${limit}: send fewer readings a message`);
    this.name = "PacketTooLarge";
    this.bytes = bytes;
  }
}

/**
 * Ends a connection as soon as a packet announces more than `limit` bytes, before any of them is kept in memory. The broker has
 * no option for it, so the length is checked where its parser has just read it (MQTT 3.1.1 section 2.2.3, remaining length).
 * Throws where the parser is not built as expected: better no broker than one without a limit.
 */
export function limitPackets(client: Client, limit: number): void {
  const parser = (client as unknown as { _parser?: Parser })._parser;
  if (typeof parser?._parseLength !== "function" || typeof parser._emitError !== "function")
    throw new Error("the broker's packet parser has changed: its size limit cannot be set");
  const parseLength = parser._parseLength.bind(parser);
  parser._parseLength = () => {
    const isRead = parseLength();
    if (isRead && parser.packet.length > limit)
      return parser._emitError(new PacketTooLarge(parser.packet.length, limit));
    return isRead;
  };
}
