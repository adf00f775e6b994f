import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type BandEdges, faultsOf, keepTo } from "#core/habitat/index.ts";

const edges = (low: number, high: number, actionLow: number, actionHigh: number): BandEdges => ({
  low,
  high,
  actionLow,
  actionHigh,
  urgentLow: null,
  urgentHigh: null,
});
const all = (month: BandEdges | null) => Array.from({ length: 12 }, () => month);
const standing = edges(10, 18, 8, 20);

describe("what residents ask for and what stands", () => {
  test("a tighter target comes at once, its limits when a person confirms them", () => {
    const asked = all(edges(12, 15, 10, 17));
    const kept = keepTo([standing], asked, []);
    expect(kept.months).toEqual([edges(12, 15, 8, 20)]);
    expect(kept.awaits).toHaveLength(12);
    expect(keepTo([standing], asked, [11]).months[10]).toEqual(edges(12, 15, 10, 17));
    expect(keepTo([standing], asked, [11]).awaits).not.toContain(11);
  });

  test("a wider target comes at once inside the limits that stand; limits are never looser unsigned", () => {
    expect(keepTo([standing], all(edges(9, 19, 7, 21)), []).months).toEqual([edges(9, 19, 8, 20)]);
    // 7 lies past the limit of 8: that side stays.
    expect(keepTo([standing], all(edges(7, 19, 5, 21)), []).months).toEqual([edges(10, 19, 8, 20)]);
    expect(keepTo([standing], all(edges(7, 19, 5, 21)), [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12])).toEqual({
      months: [edges(7, 19, 5, 21)],
      awaits: [],
    });
  });

  test("a target wholly past the limits that stand comes only signed", () => {
    expect(keepTo([standing], all(edges(24, 27, 22, 29)), []).months).toEqual([standing]);
  });

  test("where nothing is common and nobody signed, what stood stands", () => {
    expect(keepTo([standing], all(null), [])).toEqual({
      months: [standing],
      awaits: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12],
    });
  });

  test("where nothing stood there is a target and no limit until a person confirms it", () => {
    const open = { actionLow: null, actionHigh: null };
    expect(keepTo([], all(edges(12, 15, 10, 17)), []).months).toEqual([{ ...edges(12, 15, 0, 0), ...open }]);
  });
});

test("unsigned, limits never change and what is kept is always sound", () => {
  const any = fc
    .tuple(
      fc.integer({ min: 0, max: 40 }),
      fc.integer({ min: 1, max: 9 }),
      fc.integer({ min: 1, max: 9 }),
      fc.integer({ min: 1, max: 9 }),
    )
    .map(([from, a, b, c]) => edges(from + a, from + a + b, from, from + a + b + c));
  fc.assert(
    fc.property(any, any, (before, asked) => {
      for (const month of keepTo([before], all(asked), []).months) {
        expect(month).toMatchObject({ actionLow: before.actionLow, actionHigh: before.actionHigh });
        expect(faultsOf(month)).toEqual([]);
      }
    }),
  );
});
