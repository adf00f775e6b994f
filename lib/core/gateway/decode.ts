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
  if (spec === undefined) return { kind: "refused", reason: unknownQuantity(where.names.quantity) };
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

/** The sentence for a quantity id that is not in the registry; names the nearest id by shared letters in order. */
export function unknownQuantity(id: string): string {
  const wanted = id.toLowerCase().replace(/-/g, "_");
  let nearest: { readonly id: string; readonly distance: number } | undefined;
  for (const known of QUANTITY_IDS) {
    const distance = edits(wanted, known);
    if (nearest === undefined || distance < nearest.distance) nearest = { id: known, distance };
  }
  const hint =
    nearest !== undefined && nearest.distance <= Math.max(2, wanted.length / 3)
      ? `: did you mean ${nearest.id}?`
      : "";
  return `quantity ${JSON.stringify(id)} is not one that Homewater measures${hint}`;
}

/** Edit distance. Source: Wagner and Fischer (1974), the two-row form. */
function edits(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let i = 1; i <= a.length; i += 1) {
    const next = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const change = (row[j - 1] as number) + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(change, (row[j] as number) + 1, (next[j - 1] as number) + 1));
    }
    row = next;
  }
  return row[b.length] as number;
}
