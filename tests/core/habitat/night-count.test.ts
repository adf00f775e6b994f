import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { countAsked, countWords } from "#core/habitat/index.ts";

const NIGHT = { from: 100, morning: 112 };
const SINCE = [{ from: 50, to: null }];

describe("the count of a night", () => {
  it("is asked until the morning and due from it, and done by one count of that night alone", () => {
    expect([100, 111, 112, 123].map((now) => countAsked(SINCE, [], NIGHT, now))).toEqual([
      "asked",
      "asked",
      "due",
      "due",
    ]);
    expect(countAsked(SINCE, [99], NIGHT, 105)).toBe("asked");
    expect(countAsked(SINCE, [100], NIGHT, 105)).toBe("done");
  });
  it("is asked for nothing where the watch does not count, and by day from the first evening on", () => {
    expect(countAsked([], [], NIGHT, 105)).toBeNull();
    expect(countAsked([{ from: 113, to: null }], [], NIGHT, 120)).toBeNull();
    expect(countAsked([{ from: 50, to: 104 }], [], NIGHT, 105)).toBeNull();
    expect(countAsked([{ from: 105, to: null }], [], NIGHT, 106)).toBe("asked");
  });
  it("is never due once it was counted, whatever else was", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 123 })),
        fc.integer({ min: 100, max: 123 }),
        (counted, now) => {
          const isCounted = counted.some((at) => at >= NIGHT.from && at <= now);
          expect(countAsked(SINCE, counted, NIGHT, now) === "done").toBe(isCounted);
        },
      ),
    );
  });
  it("is said beside what is on record", () => {
    expect(countWords({ counted: 3, onRecord: 3 })).toBe("3 counted, same as on record");
    expect(countWords({ counted: 4, onRecord: 3 })).toContain("count again");
  });
});
