import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type Compromise, composite, coveredQuantities } from "#core/habitat/index.ts";
import { profile, stay, T } from "./made.ts";

const warm = profile("warm-fish", [{ low: 20, high: 26 }]);
const cool = profile("cool-fish", [{ low: 12, high: 22 }]);
const cold = profile("cold-fish", [
  { stage: "egg or larva", low: 8, high: 11 },
  { stage: "adult", low: 10, high: 16 },
]);
const month = (i: number, ...args: Parameters<typeof composite>) => {
  const found = composite(...args).months[i - 1];
  if (!found) throw new Error(`no month ${i}`);
  return found;
};

describe("what residents have in common", () => {
  test("the highest low and the lowest high, with who sets each edge and from which source", () => {
    const november = month(
      11,
      "temperature",
      [stay("warm-fish", "adult"), stay("cool-fish", "adult")],
      [warm, cool],
      [],
      T,
    );
    expect(november.edges).toMatchObject({ low: 20, high: 22 });
    expect(november.low).toMatchObject({ value: 20, species: "warm-fish", stays: ["stay-warm-fish-adult"] });
    expect(november.high).toMatchObject({ value: 22, species: "cool-fish", source: "invented for a test" });
    expect(november.conflict).toBeNull();
  });

  // Margin of 2 Cel and 2 of salinity: common practice, no source.
  test("action limits lie 2 beyond the edge, nearer where a tolerated or lethal value is nearer", () => {
    const bounded = profile("warm-fish", [
      { low: 20, high: 26 },
      { kind: "tolerated", low: 14, high: 27.5 },
      { kind: "lethal", low: 19, high: null },
    ]);
    const found = month(1, "temperature", [stay("warm-fish", "adult")], [bounded], [], T);
    expect(found.edges).toMatchObject({ actionLow: 19, actionHigh: 27.5 });
    expect(found.actionLow).toMatchObject({ from: "lethal" });
    expect(found.actionHigh).toMatchObject({ from: "tolerated" });
    const plain = month(1, "temperature", [stay("warm-fish", "adult")], [warm], [], T);
    expect(plain.edges).toMatchObject({ actionLow: 18, actionHigh: 28 });
    expect(plain.actionLow).toEqual({ value: 18, from: "margin", margin: 2 });
  });

  test("a quantity without a margin of its own has open sides", () => {
    const ph = profile("warm-fish", [{ quantity: "ph", low: 7, high: 8 }]);
    expect(month(1, "ph", [stay("warm-fish", "adult")], [ph], [], T).edges).toMatchObject({
      low: 7,
      high: 8,
      actionLow: null,
      actionHigh: null,
    });
  });

  test("ambient, used, tolerated and lethal entries never set an edge", () => {
    const described = profile("warm-fish", [
      { kind: "ambient", low: 1, high: 2 },
      { kind: "used", low: 3, high: 4 },
      { kind: "tolerated", low: 5, high: 6 },
      { kind: "lethal", low: 0, high: 40 },
    ]);
    const made = composite("temperature", [stay("warm-fish", "adult")], [described], [], T);
    expect(made.months.every((each) => each.edges === null && !each.conflict)).toBe(true);
    expect(made.unknown).toEqual(["stay-warm-fish-adult"]);
    expect(coveredQuantities([stay("warm-fish", "adult")], [described])).toEqual([]);
  });

  test("a stage has its own entries, and an animal without a profile of its population is not known", () => {
    const eggs = month(11, "temperature", [stay("cold-fish", "egg or larva")], [cold], [], T);
    expect(eggs.edges).toMatchObject({ low: 8, high: 11 });
    const breeding = month(11, "temperature", [stay("cold-fish", "breeding")], [cold], [], T);
    expect(breeding.edges).toMatchObject({ low: 10, high: 16 });
    const elsewhere = { ...warm, population: "north" };
    const made = composite(
      "temperature",
      [stay("warm-fish", "adult", { population: "south" })],
      [elsewhere],
      [],
      T,
    );
    expect(made.known).toEqual([]);
  });
});

describe("where they have nothing in common", () => {
  const both = [stay("warm-fish", "adult"), stay("cold-fish", "egg or larva")];

  test("the gap in units, both sides and no edges: nothing is averaged", () => {
    const november = month(11, "temperature", both, [warm, cold], [], T);
    expect(november.conflict?.gap).toBe(20 - 11);
    expect(november.conflict?.low).toMatchObject({ species: "warm-fish", stage: "adult" });
    expect(november.conflict?.high).toMatchObject({ species: "cold-fish", stage: "egg or larva" });
    expect(november.edges).toBeNull();
  });

  const signed: Compromise = {
    id: "compromise-1",
    system: "system-kelp",
    quantity: "temperature",
    months: [11, 12],
    lowSide: { species: "warm-fish", stage: "adult" },
    highSide: { species: "cold-fish", stage: "egg or larva" },
    low: 14,
    high: 16,
    actionLow: null,
    actionHigh: 17,
    reason: "until the eggs hatch",
    signedBy: "Ada",
    signedAt: T,
    validFrom: T,
    validTo: null,
  };

  test("a signed compromise sets target and limits in its months, and the conflict still shows", () => {
    const november = month(11, "temperature", both, [warm, cold], [signed], T);
    expect(november.edges).toMatchObject({ low: 14, high: 16, actionLow: 12, actionHigh: 17 });
    expect(november.conflict?.gap).toBe(9);
    expect(november.compromise?.id).toBe("compromise-1");
    expect(month(1, "temperature", both, [warm, cold], [signed], T).edges).toBeNull();
    expect(month(11, "temperature", both, [warm, cold], [signed], T - 1).edges).toBeNull();
  });

  test("it speaks of the animals it was signed for and of no others", () => {
    const others = [stay("warm-fish", "adult"), stay("cold-fish", "adult")];
    expect(month(11, "temperature", others, [warm, cold], [signed], T).edges).toBeNull();
  });
});

test("more animals never widen what is common, and the order in which they are listed changes nothing", () => {
  const range = fc.record({ low: fc.integer({ min: 0, max: 20 }), width: fc.integer({ min: 1, max: 20 }) });
  fc.assert(
    fc.property(fc.array(range, { minLength: 2, maxLength: 6 }), (ranges) => {
      const profiles = ranges.map(({ low, width }, i) => profile(`fish-${i}`, [{ low, high: low + width }]));
      const stays = ranges.map((_, i) => stay(`fish-${i}`, "adult"));
      const all = month(5, "temperature", stays, profiles, [], T);
      const fewer = month(5, "temperature", stays.slice(1), profiles, [], T);
      const reversed = month(5, "temperature", [...stays].reverse(), profiles, [], T);
      expect(all.low?.value).toBeGreaterThanOrEqual(fewer.low?.value ?? Number.NaN);
      expect(all.high?.value).toBeLessThanOrEqual(fewer.high?.value ?? Number.NaN);
      expect(reversed.edges).toEqual(all.edges);
      expect(reversed.conflict?.gap).toBe(all.conflict?.gap);
    }),
  );
});
