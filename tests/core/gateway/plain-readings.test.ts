import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decodePayload } from "#core/gateway/index.ts";
import { plainReadings } from "#core/gateway/plain-readings.ts";
import { quantity } from "#core/units/index.ts";

const RECEIVED = Date.parse("2026-03-01T06:30:00Z");
const spec = quantity("temperature");
if (spec === undefined) throw new Error("the registry has no temperature");
const bytesOf = (text: string) => new TextEncoder().encode(text);
const decoded = (text: string) => decodePayload(bytesOf(text), spec, RECEIVED);

/** A number as a device may write it: with or without sign, fraction, exponent and zeros in all the wrong places too. */
const written = fc
  .tuple(
    fc.constantFrom("", "-", "+"),
    fc.stringMatching(/^\d{0,17}$/),
    fc.option(fc.stringMatching(/^\d{0,17}$/), { nil: undefined }),
    fc.constantFrom("", "", "", "e1", "E-3"),
  )
  .map(
    ([sign, whole, fraction, exponent]) =>
      `${sign}${whole}${fraction === undefined ? "" : `.${fraction}`}${exponent}`,
  );
const plain = fc.oneof(
  fc.double({ min: -1_000, max: 1_000, noNaN: true }).map((number) => JSON.stringify(number)),
  fc.integer({ min: 0, max: 10_000 }).map((number) => (number / 100).toFixed(2)),
  written,
);
const instant = fc.oneof(
  fc.integer({ min: 1_600_000_000_000, max: 1_900_000_000_000 }).map(String),
  fc.integer({ min: -10, max: 3_000_000_000 }).map(String),
  written,
);
const pair = fc.oneof(
  { weight: 6, arbitrary: plain.map((number) => `"value": ${number}`) },
  { weight: 6, arbitrary: instant.map((number) => `"at":${number}`) },
  { weight: 2, arbitrary: plain.map((number) => `"sequence":${number}`) },
  fc.constantFrom(
    '"unit":"Cel"',
    '"history":true',
    '"valu":1',
    '"at":"2026-03-01T06:30:00Z"',
    '"value":null',
  ),
);
const object = fc
  .tuple(fc.array(pair, { minLength: 1, maxLength: 4 }), fc.constantFrom(",", ", ", " ,", ",\n"))
  .map(([pairs, between]) => `{${pairs.join(between)}}`);
const entry = fc.oneof({ weight: 4, arbitrary: object }, plain);
const payload = fc.oneof(
  entry,
  fc
    .tuple(fc.array(entry, { maxLength: 4 }), fc.constantFrom(",", ", "))
    .map(([all, between]) => `[${all.join(between)}]`),
);

describe("the short way of reading payloads", () => {
  it("gives what reading them as JSON gives, and refuses what that refuses, in its words", () => {
    // White space in front is the same JSON (RFC 8259 section 2), and is left to the long way.
    fc.assert(
      fc.property(payload, (text) => {
        expect(plainReadings(bytesOf(` ${text}`), RECEIVED)).toBeNull();
        expect(decoded(text)).toEqual(decoded(` ${text}`));
      }),
      { numRuns: 3_000 },
    );
  });

  it("also where a payload was damaged on the way", () => {
    fc.assert(
      fc.property(payload, fc.nat(), fc.integer({ min: 0, max: 255 }), (text, place, byte) => {
        const bytes = bytesOf(text);
        bytes[place % bytes.length] = byte;
        const long = new Uint8Array([0x20, ...bytes]);
        expect(decodePayload(bytes, spec, RECEIVED)).toEqual(decodePayload(long, spec, RECEIVED));
      }),
      { numRuns: 3_000 },
    );
  });

  it("reads each number as the language's own reader does", () => {
    const digits = fc.tuple(
      fc.integer({ min: -999_999_999_999_999, max: 999_999_999_999_999 }),
      fc.nat({ max: 14 }),
    );
    fc.assert(
      fc.property(digits, ([whole, decimals]) => {
        const text = String(Math.abs(whole)).padStart(decimals + 1, "0");
        const number = `${whole < 0 ? "-" : ""}${text.slice(0, text.length - decimals)}${decimals > 0 ? `.${text.slice(-decimals)}` : ""}`;
        const readings = plainReadings(bytesOf(`{"at":1772346600000,"value":${number}}`), RECEIVED);
        fc.pre(readings !== null);
        expect(readings?.[0]?.value).toBe(Number(number));
      }),
      { numRuns: 2_000 },
    );
  });

  it("is taken for what gateways send", () => {
    for (const text of [
      "7",
      "12.5",
      '{"at":1772346600000,"value":-1.5,"sequence":7}',
      '[{"at": 1772346600000, "value": 8.10}, 3]',
    ])
      expect(plainReadings(bytesOf(text), RECEIVED), text).not.toBeNull();
  });
});
