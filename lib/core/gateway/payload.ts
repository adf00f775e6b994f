import { faultText } from "../faults/fault.ts";
import type { Instant } from "../time/instant.ts";
import type { NumberQuantity, StateQuantity } from "../units/index.ts";
import { decodeEntry, type WireReading } from "./entry.ts";
import { plainReadings } from "./plain-readings.ts";

/** A payload past either limit is refused whole. Sizes in bytes; chosen here: a day of one probe at 10 s fits several times. */
export const PAYLOAD_LIMIT = 128 * 1024;
export const ENTRY_LIMIT = 10_000;

export type PayloadResult =
  | { readonly ok: true; readonly readings: readonly WireReading[] }
  | { readonly ok: false; readonly reason: string };

const UTF_8 = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true });
const BYTE_ORDER_MARK = 0xfeff;

/**
 * Reads a payload: a number, `{at, value, unit?, sequence?, history?}`, or an array of those. Never throws.
 * `bytes` as received, `spec` the registry's quantity of the topic, `received` the time of receipt, used where no `at` was sent.
 * A message is taken whole or not at all: one bad entry refuses the array, and the reason says which.
 * Sources: RFC 8259 (JSON has neither NaN nor Infinity, and is UTF-8 without a byte order mark), RFC 3339 for times.
 */
export function decodePayload(
  bytes: Uint8Array,
  spec: NumberQuantity | StateQuantity,
  received: Instant,
): PayloadResult {
  if (bytes.length > PAYLOAD_LIMIT)
    return refused(
      `payload is ${bytes.length} bytes: the limit is ${PAYLOAD_LIMIT}, send fewer readings per message`,
    );
  const readings = spec.kind === "number" ? plainReadings(bytes, received) : null;
  if (readings !== null && readings.length <= ENTRY_LIMIT) return { ok: true, readings };
  return decodeText(bytes, spec, received);
}

/** The same for a payload of any form; what `decodePayload` reads by a shorter way too, with the same result. */
function decodeText(
  bytes: Uint8Array,
  spec: NumberQuantity | StateQuantity,
  received: Instant,
): PayloadResult {
  let text: string;
  try {
    text = UTF_8.decode(bytes);
  } catch {
    return refused("payload is not valid UTF-8 text: send JSON");
  }
  if (text.charCodeAt(0) === BYTE_ORDER_MARK)
    return refused("payload begins with a byte order mark: send UTF-8 without it");
  if (text.trim() === "") return refused("payload is empty: send a number or {at, value}");
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch {
    return refused(notJson(text, spec));
  }
  if (typeof json === "object" && json !== null && repeatsKey(text, json))
    return refused("a key appears twice in one object: send it once");
  if (!Array.isArray(json)) {
    const one = decodeEntry(json, spec, received);
    return one.ok ? { ok: true, readings: [one.reading] } : refused(faultText(one, one.field));
  }
  if (json.length === 0) return refused("payload is an empty array: send at least one reading");
  if (json.length > ENTRY_LIMIT)
    return refused(`payload has ${json.length} entries: the limit is ${ENTRY_LIMIT}, send fewer per message`);
  const readings: WireReading[] = [];
  for (const [index, entry] of json.entries()) {
    const one = decodeEntry(entry, spec, received);
    if (!one.ok)
      return refused(
        `entry ${index + 1} of ${json.length}: ${faultText(one, one.field)}; none of them was stored`,
      );
    readings.push(one.reading);
  }
  return { ok: true, readings };
}

function refused(reason: string): PayloadResult {
  return { ok: false, reason };
}

/** Why text is not JSON, in the words of the commonest mistakes. */
function notJson(text: string, spec: NumberQuantity | StateQuantity): string {
  const trimmed = text.trim();
  const start = JSON.stringify(trimmed.length > 40 ? `${trimmed.slice(0, 40)}…` : trimmed);
  const word = /[-+]?\b(?:nan|inf(?:inity)?)\b/i.exec(trimmed)?.[0];
  if (word !== undefined && !trimmed.includes(`"${word}`))
    return `value is ${word}: send a finite number, or nothing if there is no reading`;
  if (/^-?\d+,\d+$/.test(trimmed)) return `payload ${start} has a decimal comma: send a decimal point`;
  if (/^[{[]/.test(trimmed) && !/[}\]]$/.test(trimmed))
    return `payload ${start} is cut off: its JSON is incomplete`;
  if (spec.kind === "state" && spec.words.includes(trimmed))
    return `payload ${start} is bare text: send {"value":${JSON.stringify(trimmed)}}`;
  return `payload ${start} is not JSON: send a number or {"at": ..., "value": ...}`;
}

/** True where an object's text writes more pairs than it has keys: JSON.parse keeps the last of two equal keys without a word. */
function repeatsKey(text: string, json: object): boolean {
  let keys = 0;
  for (const one of Array.isArray(json) ? json : [json])
    if (typeof one === "object" && one !== null && !Array.isArray(one)) keys += Object.keys(one).length;
  let pairs = 0;
  let inText = false;
  for (let index = 0; index < text.length; index += 1) {
    const code = text.charCodeAt(index);
    if (code === 0x22) inText = !inText;
    else if (code === 0x5c) index += 1;
    else if (code === 0x3a && !inText) pairs += 1;
  }
  return pairs > keys && !nests(json);
}

/** True where an object holds an object or array as a value: it is refused for that, with its own reason. */
function nests(json: object): boolean {
  const entries: unknown[] = Array.isArray(json) ? json : [json];
  return entries.some(
    (one) =>
      typeof one === "object" &&
      one !== null &&
      (Array.isArray(one) || Object.values(one).some((inner) => typeof inner === "object" && inner !== null)),
  );
}
