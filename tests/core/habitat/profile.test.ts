import { describe, expect, test } from "vitest";
import { entryFaults, profileFor, startingBand } from "#core/habitat/index.ts";
import { entry, profile } from "./made.ts";

const isNumber = (quantity: string) => quantity === "temperature";
const fieldsOf = (change: Parameters<typeof entry>[0]) =>
  entryFaults([entry({ low: 1, high: 2, ...change })], isNumber).map((fault) => fault.field);

describe("an entry", () => {
  test("is sound with numbers, a source and a known quantity", () => expect(fieldsOf({})).toEqual([]));
  test.each([
    ["without a source", { source: " " }, "source"],
    ["with low at high", { low: 2 }, "low"],
    ["without any number", { low: null, high: null }, "typical"],
    ["with a typical value outside", { typical: 9 }, "typical"],
    ["in month 13", { month: 13 }, "month"],
    ["of an unknown quantity", { quantity: "mood" }, "quantity"],
  ] as const)("%s names the field", (_words, change, field) => expect(fieldsOf(change)).toEqual([field]));
});

test("the newest version of the own population, else of the species as a whole, never another population's", () => {
  const all = [
    profile("ray", [], { id: "any-1" }),
    profile("ray", [], { id: "any-2", version: 2 }),
    profile("ray", [], { id: "north-1", population: "north" }),
  ];
  expect(profileFor(all, "ray", null)?.id).toBe("any-2");
  expect(profileFor(all, "ray", "north")?.id).toBe("north-1");
  expect(profileFor(all, "ray", "south")?.id).toBe("any-2");
  expect(profileFor(all.slice(2), "ray", "south")).toBeUndefined();
});

test("plain words name a type, whose starting bands say that they have no source", () => {
  expect(startingBand("coral reef", "temperature")).toMatchObject({
    edges: { low: 24.5, high: 27, actionLow: 23, actionHigh: 29 },
    source: "default band for this type of system, common practice, no source",
  });
  expect(startingBand("jelly", "temperature")).toBeNull();
});
