import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { clockSkew } from "#core/gateway/index.ts";

// Limits: common practice, no source.
describe("a sender's clock", () => {
  it("is off by the median of the shortest delays", () => {
    expect(clockSkew([120, 80, 100])).toEqual({ skew: 100, health: "good" });
    expect(clockSkew([-40_000, -41_000])).toEqual({ skew: -40_500, health: "M" });
    expect(clockSkew([600_000, 601_000, 600_500])).toMatchObject({ health: "F" });
    expect(clockSkew([])).toBeNull();
  });

  it("is not taken for off because some spans came late or carried a wrong time", () => {
    const wrong = fc.oneof(
      fc.integer({ min: 3_600_000, max: 10 ** 12 }),
      fc.integer({ min: -(10 ** 12), max: -3_600_000 }),
    );
    fc.assert(
      fc.property(
        fc.array(wrong, { maxLength: 9 }),
        fc.integer({ min: -20_000, max: 20_000 }),
        (outliers, skew) => {
          const delays = [...Array.from({ length: 10 }, (_, n) => skew + n), ...outliers];
          expect(clockSkew(delays)?.skew).toBeGreaterThanOrEqual(skew);
          expect(clockSkew(delays)?.skew).toBeLessThanOrEqual(skew + 9);
        },
      ),
    );
  });
});
