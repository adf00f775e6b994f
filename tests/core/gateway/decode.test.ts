import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  decodeMessage,
  decodePayload,
  decodeTopic,
  PAYLOAD_LIMIT,
  readingTopic,
} from "#core/gateway/index.ts";
import { decodeTimeText } from "#core/time/time-text.ts";
import { QUANTITIES, QUANTITY_IDS, quantity, stateWord } from "#core/units/index.ts";
import { brokenPayloads, bytesOf, goodPayloads } from "./payload-corpus.ts";

const RECEIVED = Date.parse("2026-03-01T05:31:00Z");
const TOPIC = "homewater/pennacombe/kelp-gallery/display/temperature";

describe("payloads that are right", () => {
  it.each(goodPayloads.map((one) => [one.name, one] as const))("%s", (_, one) => {
    const decoded = decodeMessage(one.topic, bytesOf(one), RECEIVED);
    if (decoded.kind !== "readings") throw new Error(JSON.stringify(decoded));
    expect(decoded.readings.map((reading) => reading.timed)).toEqual(
      one.readings.map(({ at }) => at !== null),
    );
    for (const [index, expected] of one.readings.entries()) {
      expect(decoded.readings[index]?.at).toBe(expected.at ?? RECEIVED);
      expect(decoded.readings[index]?.value).toBeCloseTo(expected.value, 12);
    }
  });

  it("keeps what was sent beside what it was converted to", () => {
    const decoded = decodePayload(
      Buffer.from('{"value":212,"unit":"[degF]"}'),
      QUANTITIES.temperature,
      RECEIVED,
    );
    // 212 °F is 100 °C by the definition of the Fahrenheit scale.
    expect(decoded).toMatchObject({ ok: true, readings: [{ sent: 212, unit: "[degF]" }] });
    expect(decoded.ok && decoded.readings[0]?.value).toBeCloseTo(100, 9);
  });
});

describe("payloads that are broken", () => {
  it.each(brokenPayloads.map((one) => [one.name, one] as const))(
    "%s is refused, and the reason says why",
    (_, one) => {
      const decoded = decodeMessage(one.topic, bytesOf(one), RECEIVED);
      if (decoded.kind !== "refused") throw new Error(`was taken: ${JSON.stringify(decoded)}`);
      expect(decoded.reason).toContain(one.reason);
      expect(decoded.reason.length).toBeLessThan(300);
    },
  );

  it("takes a payload of the size of the limit and refuses one byte more", () => {
    const full = Buffer.from(`12.4${" ".repeat(PAYLOAD_LIMIT - 4)}`);
    expect(decodePayload(full, QUANTITIES.temperature, RECEIVED).ok).toBe(true);
    const over = decodePayload(Buffer.concat([full, Buffer.from(" ")]), QUANTITIES.temperature, RECEIVED);
    expect(over).toMatchObject({ ok: false, reason: expect.stringContaining(`${PAYLOAD_LIMIT + 1} bytes`) });
  });
});

describe("properties", () => {
  const anyQuantity = fc.constantFrom(...QUANTITY_IDS);

  it("random bytes never throw, and nothing but finite numbers comes out", () => {
    fc.assert(
      fc.property(
        fc.string({ unit: "binary" }),
        fc.uint8Array({ maxLength: 200 }),
        anyQuantity,
        (topic, bytes, id) => {
          decodeMessage(topic, bytes, RECEIVED);
          const decoded = decodeMessage(`homewater/a/b/c/${id}`, bytes, RECEIVED);
          if (decoded.kind === "readings")
            for (const reading of decoded.readings) expect(Number.isFinite(reading.value)).toBe(true);
        },
      ),
      { numRuns: 2_000 },
    );
  });

  it("any JSON is either taken or refused with a reason", () => {
    fc.assert(
      fc.property(fc.json(), anyQuantity, (text, id) => {
        const decoded = decodeMessage(`homewater/a/b/c/${id}`, Buffer.from(text), RECEIVED);
        if (decoded.kind === "refused") expect(decoded.reason).not.toBe("");
      }),
      { numRuns: 2_000 },
    );
  });

  it("what is sent comes back: every time, number, word and sequence", () => {
    const sent = anyQuantity.chain((id) => {
      const spec = quantity(id);
      const value =
        spec?.kind === "state"
          ? fc.constantFrom(...spec.words)
          : fc.double({ noNaN: true, noDefaultInfinity: true, min: -1e300, max: 1e300 });
      // From the year 2033 on no number of milliseconds is taken for seconds.
      const at = fc.integer({ min: 2_000_000_000, max: 253_402_300_799_999 });
      return fc.record({
        id: fc.constant(id),
        entries: fc.array(fc.record({ at, value, sequence: fc.nat() }), { minLength: 1, maxLength: 20 }),
        asText: fc.boolean(),
      });
    });
    fc.assert(
      fc.property(sent, ({ id, entries, asText }) => {
        const payload = entries.map((one) => ({
          ...one,
          at: asText ? new Date(one.at).toISOString() : one.at,
        }));
        const decoded = decodeMessage(
          `homewater/a/b/c/${id}`,
          Buffer.from(JSON.stringify(payload)),
          RECEIVED,
        );
        if (decoded.kind !== "readings") throw new Error(JSON.stringify(decoded));
        const spec = quantity(id);
        const back = decoded.readings.map(({ at, value, sequence }) => ({
          at,
          value: spec?.kind === "state" ? stateWord(spec, value) : value,
          sequence,
        }));
        expect(back).toEqual(entries.map((one) => ({ ...one, value: one.value === 0 ? 0 : one.value })));
      }),
      { numRuns: 500 },
    );
  });

  it("every prefix of a good message is refused, not half taken", () => {
    const text =
      '[{"at":"2026-03-01T06:30:00+01:00","value":12.4,"unit":"Cel"},{"at":1772343060000,"value":12.5}]';
    for (let length = 0; length < text.length; length += 1)
      expect(decodeMessage(TOPIC, Buffer.from(text.slice(0, length)), RECEIVED).kind).toBe("refused");
    expect(decodeMessage(TOPIC, Buffer.from(text), RECEIVED).kind).toBe("readings");
  });

  it("an instant written with any offset is the same instant", () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 4e12 }), fc.integer({ min: -1_439, max: 1_439 }), (at, east) => {
        const local = new Date(at + east * 60_000).toISOString().replace("Z", "");
        if (!/^\d{4}-/.test(local)) return;
        const [hours, minutes] = [Math.floor(Math.abs(east) / 60), Math.abs(east) % 60];
        const offset = `${east < 0 ? "-" : "+"}${String(hours).padStart(2, "0")}:${String(minutes).padStart(2, "0")}`;
        expect(decodeTimeText(local + offset)).toEqual({ ok: true, at });
      }),
    );
  });
});

describe("topics", () => {
  it("reads back what it writes", () => {
    const names = { site: "pennacombe", system: "kelp-gallery", point: "pump-1", quantity: "pump" };
    expect(decodeTopic(readingTopic(names))).toEqual({ kind: "reading", names });
  });

  it("knows its own outgoing topics", () => {
    for (const topic of [
      "homewater/pennacombe/status",
      "homewater/pennacombe/alarm/kelp-gallery/temperature",
    ])
      expect(decodeTopic(topic)).toEqual({ kind: "ours" });
  });
});

describe("times in files", () => {
  it("takes an assumed offset for text that has none, and then seconds may be missing", () => {
    expect(decodeTimeText("2016-09-12T00:00", "-07:00")).toEqual({
      ok: true,
      at: Date.parse("2016-09-12T07:00:00Z"),
    });
    expect(decodeTimeText("2016-09-12 00:00:30", "Z")).toEqual({
      ok: true,
      at: Date.parse("2016-09-12T00:00:30Z"),
    });
    expect(decodeTimeText("2016-09-12T00:00:00+02:00", "-07:00")).toEqual({
      ok: true,
      at: Date.parse("2016-09-11T22:00:00Z"),
    });
  });

  // Source: RFC 3339 section 5.8, examples.
  it("agrees with the examples of RFC 3339", () => {
    expect(decodeTimeText("1985-04-12T23:20:50.52Z")).toEqual({
      ok: true,
      at: Date.UTC(1985, 3, 12, 23, 20, 50, 520),
    });
    expect(decodeTimeText("1996-12-19T16:39:57-08:00")).toEqual({
      ok: true,
      at: Date.UTC(1996, 11, 20, 0, 39, 57),
    });
    expect(decodeTimeText("1937-01-01T12:00:27.87+00:20")).toEqual({
      ok: true,
      at: Date.UTC(1937, 0, 1, 11, 40, 27, 870),
    });
  });
});
