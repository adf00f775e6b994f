import fc from "fast-check";
import { expect, it } from "vitest";
import { packText, unpackText } from "#store/packed-text.ts";

it("packed text comes back as it was, whatever is in it", () => {
  fc.assert(
    fc.property(fc.oneof(fc.string({ unit: "grapheme" }), fc.json()), (text) => {
      expect(unpackText(packText(text))).toBe(text);
    }),
  );
});

it("JSON of before there was packing is read as it stands", () => {
  fc.assert(
    fc.property(fc.json(), (text) => {
      expect(unpackText(new TextEncoder().encode(text))).toBe(text);
    }),
  );
});

it("takes less than half the room of a state's text", () => {
  const text = JSON.stringify(
    Array.from({ length: 500 }, (_, n) => ({ at: 1_795_000_000_000 + n * 300_000 })),
  );
  expect(packText(text).length).toBeLessThan(text.length / 2);
});
