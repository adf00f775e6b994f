import type { Instant } from "../time/instant.ts";
import { LAST_INSTANT, SECONDS_TO } from "../time/time-text.ts";
import type { WireReading } from "./entry.ts";

const COMMA = 0x2c;
const MINUS = 0x2d;
const POINT = 0x2e;
const ZERO = 0x30;
const NINE = 0x39;
const COLON = 0x3a;
const SPACE = 0x20;
const OPEN_LIST = 0x5b;
const CLOSE_LIST = 0x5d;
const OPEN = 0x7b;
const CLOSE = 0x7d;
const AT = [...'"at"'].map((one) => one.charCodeAt(0));
const VALUE = [...'"value"'].map((one) => one.charCodeAt(0));
const SEQUENCE = [...'"sequence"'].map((one) => one.charCodeAt(0));

/** 10^0 to 10^15: each is a double, so that a whole number of at most 15 digits divided by one is rounded once, like the written number. */
const TENS = Array.from({ length: 16 }, (_, exponent) => 10 ** exponent);
const MOST_DIGITS = 15;

/** Where reading has got to. One a payload, handed from function to function: functions inside functions would be made for every message. */
interface Place {
  readonly bytes: Uint8Array;
  readonly received: Instant;
  position: number;
  /** Digits of the number read last, as a whole number, and how many of them stand behind the point. */
  whole: number;
  decimals: number;
}

/**
 * Reads the payloads that keep coming straight from their bytes: a number, `{"at": ms, "value": number, "sequence"?: whole}`, or an array
 * of those, with no spaces but single ones after a colon or comma. Null for anything else and for whatever is wrong: then
 * `decodePayload` reads it as JSON and says what is wrong. Where it is not null, it is what `decodePayload` would have given.
 * `bytes` as received, for a quantity that is a number; `received` in UTC milliseconds, for a number alone.
 * Source of the one rounding: W. D. Clinger, "How to read floating point numbers accurately", PLDI 1990, the simple case (from memory).
 */
export function plainReadings(bytes: Uint8Array, received: Instant): WireReading[] | null {
  const place: Place = { bytes, received, position: 0, whole: 0, decimals: 0 };
  if (bytes[0] !== OPEN_LIST) {
    const one = entry(place);
    return one !== null && place.position === bytes.length ? [one] : null;
  }
  place.position = 1;
  const readings: WireReading[] = [];
  for (;;) {
    const one = entry(place);
    if (one === null) return null;
    readings.push(one);
    const end = bytes[place.position];
    place.position += 1;
    if (end === CLOSE_LIST) break;
    if (end !== COMMA) return null;
    afterSpace(place);
  }
  return place.position === bytes.length ? readings : null;
}

function entry(place: Place): WireReading | null {
  const { bytes } = place;
  if (bytes[place.position] !== OPEN)
    return number(place) ? reading(place.received, false, written(place), null) : null;
  place.position += 1;
  let at = -1;
  let sent = Number.NaN;
  let sequence = -1;
  for (;;) {
    const key = isNext(place, AT)
      ? AT
      : isNext(place, VALUE)
        ? VALUE
        : isNext(place, SEQUENCE)
          ? SEQUENCE
          : null;
    if (key === null) return null;
    place.position += key.length;
    if (bytes[place.position] !== COLON) return null;
    place.position += 1;
    afterSpace(place);
    if (!number(place)) return null;
    if (key === VALUE) {
      if (!Number.isNaN(sent)) return null;
      sent = written(place);
    } else if (place.decimals !== 0 || place.whole < 0) return null;
    else if (key === AT) {
      if (at >= 0 || place.whole < SECONDS_TO || place.whole > LAST_INSTANT) return null;
      at = place.whole;
    } else {
      if (sequence >= 0) return null;
      sequence = place.whole;
    }
    const end = bytes[place.position];
    place.position += 1;
    if (end === CLOSE) break;
    if (end !== COMMA) return null;
    afterSpace(place);
  }
  if (at < 0 || Number.isNaN(sent)) return null;
  return reading(at, true, sent, sequence < 0 ? null : sequence);
}

/** Reads a JSON number without an exponent; false where it is none, or too long to be exact. */
function number(place: Place): boolean {
  const { bytes, position } = place;
  const from = bytes[position] === MINUS ? position + 1 : position;
  let at = from;
  let whole = 0;
  let digits = 0;
  let point = -1;
  for (; ; at += 1) {
    const code = bytes[at] as number;
    if (code >= ZERO && code <= NINE) {
      whole = whole * 10 + (code - ZERO);
      digits += 1;
    } else if (code === POINT && point < 0 && digits > 0) point = at;
    else break;
  }
  if (digits === 0 || digits > MOST_DIGITS || point === at - 1) return false;
  // 01 is not JSON.
  if (bytes[from] === ZERO && point !== from + 1 && digits > 1) return false;
  // -0 is left to others.
  if (from > position && whole === 0) return false;
  place.whole = from > position ? -whole : whole;
  place.decimals = point < 0 ? 0 : at - 1 - point;
  place.position = at;
  return true;
}

function written({ whole, decimals }: Place): number {
  return decimals === 0 ? whole : whole / (TENS[decimals] as number);
}

function isNext({ bytes, position }: Place, word: readonly number[]): boolean {
  for (let index = 0; index < word.length; index += 1)
    if (bytes[position + index] !== word[index]) return false;
  return true;
}

function afterSpace(place: Place): void {
  if (place.bytes[place.position] === SPACE) place.position += 1;
}

function reading(at: Instant, timed: boolean, value: number, sequence: number | null): WireReading {
  return { at, timed, value, sent: value, unit: null, sequence, history: false };
}
