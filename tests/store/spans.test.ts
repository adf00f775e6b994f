import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { decodeSpans, encodeSpans } from "../../lib/store/spans.ts";

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

  it("are still read from a journal of the first form", () => {
    const spans = { readings: [[7, 1_000, 2_000] as const], conflicts: [[8, 1_500] as const] };
    expect(decodeSpans(JSON.stringify([spans.readings, spans.conflicts]))).toEqual(spans);
  });
});
