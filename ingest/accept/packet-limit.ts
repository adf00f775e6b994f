import { Duplex, pipeline, Transform } from "node:stream";
import type { Client } from "aedes";

/** The private part of the broker's packet parser that `limitPackets` relies on; where it has changed, `limitStream` serves. */
interface Parser {
  packet: { length: number; cmd: string };
  _parseLength(): boolean;
  _emitError(error: Error): boolean;
}

export class PacketTooLarge extends Error {
  readonly bytes: number;
  constructor(bytes: number, limit: number) {
    super(`packet of ${bytes} bytes is over the limit of ${limit}: send fewer readings per message`);
    this.name = "PacketTooLarge";
    this.bytes = bytes;
  }
}

const parserOf = (client: Client) => (client as unknown as { _parser?: Partial<Parser> })._parser;

/** Whether the broker's parser is built as `limitPackets` needs it. */
export function canLimitPackets(client: Client): boolean {
  const parser = parserOf(client);
  return typeof parser?._parseLength === "function" && typeof parser._emitError === "function";
}

/**
 * Ends a connection as soon as a packet announces more than `limit` bytes, before any of them is kept in memory. The broker has
 * no option for it, so the length is checked where its parser has just read it (MQTT 3.1.1 section 2.2.3, remaining length).
 * Only for a client of which `canLimitPackets` is true.
 */
export function limitPackets(client: Client, limit: number): void {
  const parser = parserOf(client) as Parser;
  const parseLength = parser._parseLength.bind(parser);
  parser._parseLength = () => {
    const isRead = parseLength();
    if (isRead && parser.packet.length > limit)
      return parser._emitError(new PacketTooLarge(parser.packet.length, limit));
    return isRead;
  };
}

/** The same without the broker's parser, for one more pass over what each connection sends: the stream for the broker, which fails with PacketTooLarge. */
export function limitStream(socket: Duplex, limit: number): Duplex {
  let isReading: "type" | "length" | "rest" = "type";
  let length = 0;
  let weight = 1;
  let left = 0;
  const measured = new Transform({
    transform(chunk: Buffer, _encoding, done) {
      let at = 0;
      while (at < chunk.length) {
        if (isReading === "rest") {
          const step = Math.min(left, chunk.length - at);
          at += step;
          left -= step;
          if (left === 0) isReading = "type";
          continue;
        }
        const byte = chunk[at] as number;
        at += 1;
        if (isReading === "type") {
          [isReading, length, weight] = ["length", 0, 1];
          continue;
        }
        length += (byte & 0x7f) * weight;
        weight *= 0x80;
        if (byte >= 0x80) continue;
        if (length > limit) return done(new PacketTooLarge(length, limit));
        left = length;
        isReading = length === 0 ? "type" : "rest";
      }
      done(null, chunk);
    },
  });
  // Errors reach the broker through the stream it is given.
  return Duplex.from({ readable: pipeline(socket, measured, () => undefined), writable: socket });
}
