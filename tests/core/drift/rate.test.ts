import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { slopePerHour } from "#core/drift/rate.ts";
import { rateRulesFor } from "#core/drift/rate-rules.ts";

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;

describe("robust slope", () => {
  test("of a straight line is its slope", () => {
    const t = Array.from({ length: 13 }, (_, i) => i * 5 * MINUTE);
    expect(
      slopePerHour(
        t,
        t.map((at) => 3 + (0.3 * at) / HOUR),
        HOUR,
      ),
    ).toBeCloseTo(0.3, 12);
  });

  test("of a worked example: y = 2, 4, 5, 4, 5 at x = 1..5 has slope 17/24, the median of its ten pairwise slopes (Sen 1968; worked by hand)", () => {
    expect(
      slopePerHour(
        [1, 2, 3, 4, 5].map((x) => x * HOUR),
        [2, 4, 5, 4, 5],
        5 * HOUR,
      ),
    ).toBeCloseTo(17 / 24, 12);
  });

  test("one wild reading in the middle, or at the end, does not make a rate", () => {
    const t = Array.from({ length: 13 }, (_, i) => i * 5 * MINUTE);
    for (const wild of [6, 12]) {
      const v = t.map((_, i) => 20 + (i === wild ? 5 : 0));
      expect(slopePerHour(t, v, HOUR)).toBeCloseTo(0, 12);
    }
  });

  test("is unknown from fewer than three readings, or from a stub of the window", () => {
    expect(slopePerHour([0, HOUR], [1, 2], HOUR)).toBeNull();
    expect(slopePerHour([0, 5 * MINUTE, 10 * MINUTE], [1, 2, 3], HOUR)).toBeNull();
    expect(slopePerHour([], [], HOUR)).toBeNull();
  });

  test("looks back no further than the window", () => {
    const t = Array.from({ length: 25 }, (_, i) => i * 5 * MINUTE);
    const v = t.map((_, i) => (i < 12 ? 100 - i : 50));
    expect(slopePerHour(t, v, HOUR)).toBeCloseTo(0, 12);
  });

  test("does not depend on where the series begins in the array, nor on a shift of the values", () => {
    const series = fc.array(fc.double({ min: -10, max: 10, noNaN: true }), { minLength: 15, maxLength: 40 });
    fc.assert(
      fc.property(series, fc.integer({ min: 0, max: 5 }), (v, pad) => {
        const t = v.map((_, i) => i * 5 * MINUTE);
        const plain = slopePerHour(t, v, HOUR) as number;
        const padded = slopePerHour(
          [...Array(pad).fill(-1e9), ...t],
          [...Array(pad).fill(7), ...v],
          HOUR,
          pad,
        ) as number;
        expect(padded).toBe(plain);
        expect(
          slopePerHour(
            t,
            v.map((each) => each + 100),
            HOUR,
          ) as number,
        ).toBeCloseTo(plain, 8);
      }),
    );
  });
});

describe("rate rules (common practice, no source)", () => {
  test("a pool of at most 6 m3 is asked after twenty minutes", () => {
    expect(Math.max(...rateRulesFor("temperature", "exhibit", 4).map((rule) => rule.windowMs))).toBe(
      20 * MINUTE,
    );
    expect(Math.min(...rateRulesFor("temperature", "exhibit", 6.1).map((rule) => rule.windowMs))).toBe(HOUR);
  });
  test("ORP is watched for rising at the display and not in the contact chamber", () => {
    expect(rateRulesFor("orp", "contact-chamber", 100)).toEqual([]);
    expect(rateRulesFor("orp", "exhibit", 100).every((rule) => rule.direction === "rising")).toBe(true);
  });
});
