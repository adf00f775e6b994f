import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decodeSpans, encodeSpans } from "#store/spans.ts";

const instant = fc.integer({ min: -(10 ** 14), max: 10 ** 14 });
const stream = fc.integer({ min: 1, max: 2 ** 31 - 1 });

describe("the spans of a journal row", () => {
  it("are read as they were written, whatever they are", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(stream, instant, fc.nat({ max: 10 ** 13 }))),
        fc.array(fc.tuple(stream, instant)),
        (given, conflicts) => {
          const readings = given.map(([id, from, length]) => [id, from, from + length] as const);
          expect(decodeSpans(encodeSpans({ readings, conflicts }))).toEqual({ readings, conflicts });
        },
      ),
    );
  });

  it("are read as they were written where all are alike, in their order, and take few bytes", () => {
    const streams = fc.array(fc.oneof(fc.integer({ min: 1, max: 30 }), stream), { minLength: 1 });
    fc.assert(
      fc.property(streams, instant, fc.nat({ max: 10 ** 9 }), (ids, from, length) => {
        const spans = { readings: ids.map((id) => [id, from, from + length] as const), conflicts: [] };
        expect(decodeSpans(encodeSpans(spans))).toEqual(spans);
      }),
    );
    const all = Array.from({ length: 240 }, (_, n) => [n + 1, 1_772_346_600_000, 1_772_346_600_000] as const);
    expect(encodeSpans({ readings: all, conflicts: [] })).toBe('[1772346600000,0,"1-240"]');
  });

  it("are still read from a journal of the second form", () => {
    const spans = { readings: [[7, 1_000, 1_000] as const], conflicts: [] };
    expect(decodeSpans("[1000,[7,0,0],[]]")).toEqual(spans);
  });

  it("are still read from a journal of the first form", () => {
    const spans = { readings: [[7, 1_000, 2_000] as const], conflicts: [[8, 1_500] as const] };
    expect(decodeSpans(JSON.stringify([spans.readings, spans.conflicts]))).toEqual(spans);
  });
});
