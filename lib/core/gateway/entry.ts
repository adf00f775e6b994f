import type { Fault } from "../faults/fault.ts";
import type { Instant } from "../time/instant.ts";
import { decodeEpochMs, decodeTimeText, LAST_INSTANT } from "../time/time-text.ts";
import { canonicalUnit, type NumberQuantity, type StateQuantity, stateIndex } from "../units/index.ts";

/** One reading as it was sent, checked. */
export interface WireReading {
  /** The sender's time; the time of receipt where it sent none (`timed` false). */
  readonly at: Instant;
  readonly timed: boolean;
  /** In the registry's unit; for a state the index of its word. */
  readonly value: number;
  /** The number or word as sent, and the unit named beside it. */
  readonly sent: number | string;
  readonly unit: string | null;
  readonly sequence: number | null;
  /** Recorded data: kept at its own time, never called live. */
  readonly history: boolean;
}
/** What is wrong with an entry, and with which of its fields; null where it is the entry itself. */
export interface EntryFault extends Fault {
  readonly field: "at" | "value" | "unit" | "sequence" | "history" | null;
}
export type EntryResult =
  | { readonly ok: true; readonly reading: WireReading }
  | ({ readonly ok: false } & EntryFault);

type Spec = NumberQuantity | StateQuantity;
const KEYS: ReadonlySet<string> = new Set(["at", "value", "unit", "sequence", "history"]);

/**
 * Checks a bare number or one `{at, value, unit?, sequence?, history?}`. Never throws, never guesses, never turns a blank into 0.
 * `spec` is the registry's quantity; `received` is used where no time was sent. Faults name the field, what it was and what
 * to send instead.
 */
export function decodeEntry(entry: unknown, spec: Spec, received: Instant): EntryResult {
  if (entry === null || typeof entry !== "object") {
    const value = decodeValue(entry, undefined, spec);
    return value.ok ? taken(received, false, value, entry, null, null, false) : value;
  }
  if (Array.isArray(entry)) return refused(null, "an array is inside an array", "send one flat array");
  for (const key of Object.keys(entry))
    if (!KEYS.has(key))
      return refused(
        null,
        `${JSON.stringify(key.slice(0, 40))} is not known`,
        `use only ${[...KEYS].join(", ")}`,
      );
  const { at, value, unit, sequence, history } = entry as Record<string, unknown>;
  if (unit !== undefined && typeof unit !== "string")
    return refused("unit", `is ${shown(unit)}`, 'send text such as "mg/L"');
  if (sequence !== undefined && !(Number.isSafeInteger(sequence) && (sequence as number) >= 0))
    return refused("sequence", `is ${shown(sequence)}`, "send a whole number, 0 or more");
  if (history !== undefined && typeof history !== "boolean")
    return refused("history", `is ${shown(history)}`, "send true");
  if (history === true && at === undefined)
    return refused("history", "needs each reading's own time", "add at");
  let time: Instant = received;
  if (at !== undefined) {
    const decoded =
      typeof at === "string" ? decodeTimeText(at) : typeof at === "number" ? decodeEpochMs(at) : undefined;
    if (decoded === undefined)
      return refused(
        "at",
        `is ${shown(at)}`,
        "send RFC 3339 text with an offset, or milliseconds since 1970",
      );
    if (!decoded.ok) return refused("at", decoded.says, decoded.remedy);
    if (decoded.at < 0 || decoded.at > LAST_INSTANT)
      return refused("at", `${shown(at)} is outside the years 1970 to 9999`, "check the clock of the sender");
    time = decoded.at;
  }
  const checked = decodeValue(value, unit, spec);
  if (!checked.ok) return checked;
  return taken(
    time,
    at !== undefined,
    checked,
    value,
    unit ?? null,
    (sequence as number) ?? null,
    history === true,
  );
}

function taken(
  at: Instant,
  timed: boolean,
  { value }: { readonly value: number },
  sent: unknown,
  unit: string | null,
  sequence: number | null,
  history: boolean,
): EntryResult {
  return { ok: true, reading: { at, timed, value, sent: sent as number | string, unit, sequence, history } };
}

type ValueResult = { readonly ok: true; readonly value: number } | ({ readonly ok: false } & EntryFault);

/** The stored number of a value as sent; see `decodeEntry`. */
function decodeValue(value: unknown, unit: string | undefined, spec: Spec): ValueResult {
  if (spec.kind === "state") {
    const index = typeof value === "string" ? stateIndex(spec, value) : undefined;
    if (index === undefined)
      return refused("value", `is ${shown(value)}`, `send one of ${spec.words.join(", ")}`);
    if (unit !== undefined)
      return refused("unit", `is ${shown(unit)}, and ${spec.id} is a state without a unit`, "leave it out");
    return { ok: true, value: index };
  }
  if (typeof value !== "number")
    return refused("value", `is ${shown(value)}`, `send a number${inUnit(spec)}`);
  if (!Number.isFinite(value))
    return refused("value", "is too large to be a number", `send one${inUnit(spec)}`);
  if (unit === undefined || unit === spec.unit) return { ok: true, value: value + 0 };
  const conversion = canonicalUnit(spec.id, unit);
  if (conversion === undefined)
    return refused(
      "unit",
      `${shown(unit)} does not convert exactly to ${JSON.stringify(spec.unit)} of ${spec.id}`,
      `send it in ${JSON.stringify(spec.unit)}`,
    );
  const converted = value * conversion.factor + conversion.offset;
  if (!Number.isFinite(converted))
    return refused("value", "is too large to be a number", `send one${inUnit(spec)}`);
  return { ok: true, value: converted + 0 };
}

function inUnit(spec: NumberQuantity): string {
  return spec.unitLabel === "" ? "" : ` in ${spec.unitLabel}`;
}
function refused(
  field: EntryFault["field"],
  says: string,
  remedy: string,
): { readonly ok: false } & EntryFault {
  return { ok: false, field, says, remedy };
}

/** What something is, in words a technician can match with what the device sent. */
function shown(value: unknown): string {
  if (value === undefined) return "missing";
  if (value === null) return "null";
  if (typeof value === "string")
    return value === ""
      ? "empty text"
      : `text ${JSON.stringify(value.length > 40 ? `${value.slice(0, 40)}…` : value)}`;
  if (Array.isArray(value)) return "an array";
  if (typeof value === "object") return "an object";
  return String(value);
}
