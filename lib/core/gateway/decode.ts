import { closest, distance } from "fastest-levenshtein";
import { type Fault, faultText } from "../faults/fault.ts";
import type { Instant } from "../time/instant.ts";
import { type NumberQuantity, QUANTITY_IDS, quantity, type StateQuantity } from "../units/index.ts";
import type { WireReading } from "./entry.ts";
import { decodePayload } from "./payload.ts";
import { decodeTopic, type ReadingTopic } from "./topic.ts";

export type Decoded =
  | { readonly kind: "readings"; readonly names: ReadingTopic; readonly readings: readonly WireReading[] }
  /** Homewater's own outgoing topic: nothing to take in, nothing wrong. */
  | { readonly kind: "ours" }
  | { readonly kind: "refused"; readonly reason: string };

/** What a topic's messages hold and where it belongs. */
export type Place =
  | { readonly kind: "known"; readonly names: ReadingTopic; readonly spec: NumberQuantity | StateQuantity }
  | { readonly kind: "ours" }
  | { readonly kind: "refused"; readonly reason: string };

/**
 * Reads a topic with the registry: a quantity it does not know is refused, with the nearest one it does know. Never throws; the
 * same topic always gives the same answer.
 */
export function placeOf(topic: string): Place {
  const where = decodeTopic(topic);
  if (where.kind !== "reading") return where;
  const spec = quantity(where.names.quantity);
  if (spec === undefined)
    return { kind: "refused", reason: faultText(unknownQuantity(where.names.quantity)) };
  return { kind: "known", names: where.names, spec };
}

/** Reads one message whole. Never throws. `received` is the time of receipt in UTC milliseconds. */
export function decodeMessage(topic: string, payload: Uint8Array, received: Instant): Decoded {
  const place = placeOf(topic);
  if (place.kind !== "known") return place;
  const decoded = decodePayload(payload, place.spec, received);
  if (!decoded.ok) return { kind: "refused", reason: decoded.reason };
  return { kind: "readings", names: place.names, readings: decoded.readings };
}

/** What is wrong with a quantity id that is not in the registry; asks after the id of it that is fewest changes of a letter away. */
export function unknownQuantity(id: string): Fault {
  const wanted = id.toLowerCase().replace(/-/g, "_");
  const nearest = closest(wanted, QUANTITY_IDS);
  const isNear = distance(wanted, nearest) <= Math.max(2, wanted.length / 3);
  return {
    says: `quantity ${JSON.stringify(id)} is not in Homewater's registry`,
    remedy: isNear ? `did you mean ${nearest}?` : "use the id of a quantity in the registry",
  };
}
