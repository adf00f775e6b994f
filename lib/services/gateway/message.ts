import {
  decodePayload,
  type Place,
  placeOf,
  type ReadingTopic,
  type WireReading,
} from "#core/gateway/index.ts";
import type { Instant } from "#core/time/instant.ts";
import type { Rejected, SourceKind } from "#store/port.ts";

/** One published message as an edge received it. */
export interface Message {
  readonly topic: string;
  readonly payload: Uint8Array;
  /** Who sent it: the gateway's client id, or the broker it came through. */
  readonly client: string;
  readonly dup: boolean;
  readonly retain: boolean;
  readonly qos: number;
}
/** What became of a message, known only after the commit. */
export interface Receipt {
  readonly outcome: "accepted" | "unclaimed" | "rejected" | "ours";
  readonly stored: number;
  readonly duplicates: number;
  readonly conflicts: number;
  /** Readings kept for a topic that is not set up. */
  readonly unclaimed: number;
  /** Why it was rejected; null otherwise. */
  readonly reason: string | null;
  /** The commit's receive instant; null where nothing had to be written. */
  readonly received: Instant | null;
}

/** Readings of one topic from one sender, or one message that is not to be taken: what a commit is made of. */
export type Part =
  | {
      readonly kind: "readings";
      readonly topic: string;
      readonly names: ReadingTopic;
      readonly readings: readonly WireReading[];
      readonly client: string;
      readonly senderKind: SourceKind;
      /** Delivered again by the sender's client: without a time of its own it cannot be told from a new reading. */
      readonly dup: boolean;
    }
  | { readonly kind: "rejected"; readonly rejected: Rejected };

const SAMPLE_BYTES = 512;
const TOPIC_CHARACTERS = 256;
const CLIENT_CHARACTERS = 128;
const RETAINED =
  "retained: the broker kept this message, so its arrival says nothing about its time: send at, or publish without the retain flag";

/** Topics whose place is remembered; past it all are forgotten, which costs a microsecond each to read again. */
const PLACES_KEPT = 10_000;

/**
 * Decodes messages. Null for Homewater's own outgoing topics. A retained message whose readings carry no time is not taken: it
 * says what was true once, not what is true now; one that carries its times is stored under them, once.
 * What a topic means is remembered, because the same few hundred topics keep coming.
 */
export function createDecoder(): (message: Message, received: Instant) => Part | null {
  const places = new Map<string, Place>();
  return (message, received) => {
    let place = places.get(message.topic);
    if (place === undefined) {
      place = placeOf(message.topic);
      if (places.size >= PLACES_KEPT) places.clear();
      if (place.kind === "known") places.set(message.topic, place);
    }
    if (place.kind === "ours") return null;
    if (place.kind === "refused") return rejectedPart(message, place.reason);
    const decoded = decodePayload(message.payload, place.spec, received);
    if (!decoded.ok) return rejectedPart(message, decoded.reason);
    if (message.retain && decoded.readings.some((reading) => !reading.timed))
      return rejectedPart(message, RETAINED);
    return {
      kind: "readings",
      topic: message.topic,
      names: place.names,
      readings: decoded.readings,
      client: clip(message.client, CLIENT_CHARACTERS),
      senderKind: "gateway",
      dup: message.dup,
    };
  };
}

/** A message that is kept for people to look at and not taken: its first bytes, its size, who sent it and why. */
export function rejectedPart(
  message: Pick<Message, "topic" | "payload" | "client">,
  reason: string,
  bytes?: number,
): Part {
  return {
    kind: "rejected",
    rejected: {
      topic: clip(message.topic, TOPIC_CHARACTERS),
      reason,
      // A copy: the bytes received lie in a buffer that is much larger and is used again.
      sample: Uint8Array.from(message.payload.subarray(0, SAMPLE_BYTES)),
      bytes: bytes ?? message.payload.length,
      source: clip(message.client, CLIENT_CHARACTERS),
    },
  };
}

function clip(text: string, length: number): string {
  return text.length > length ? text.slice(0, length) : text;
}
