import { describe, expect, test } from "vitest";
import type { Profile, ProfileEntry, Stage, Stay } from "#core/habitat/index.ts";
import { composite, keepTo, type Meanwhile } from "#core/habitat/index.ts";

const entry = (stage: Stage, low: number, high: number): ProfileEntry => ({
  quantity: "temperature",
  stage,
  month: null,
  low,
  typical: null,
  high,
  means: "author's stated range",
  kind: "advice",
  depth: null,
  place: null,
  years: null,
  source: "invented",
  mark: "read",
  method: null,
  confidence: "low",
  note: null,
});
const profile = (species: string, entries: readonly ProfileEntry[]): Profile => ({
  id: species,
  species,
  population: null,
  version: 1,
  latitude: null,
  longitude: null,
  entries,
  recordedAt: 0,
  recordedBy: "Ada",
  reason: "for the test",
});
const stay = (species: string, stage: Stage): Stay => ({
  id: species,
  animal: species,
  system: "kelp",
  species,
  population: null,
  name: null,
  sex: null,
  stage,
  count: 1,
  from: 0,
  to: null,
  ended: null,
});
const meanwhile = (...rows: readonly (readonly [string, Stage, number, number])[]): Meanwhile | null =>
  composite(
    "temperature",
    rows.map(([species, stage]) => stay(species, stage)),
    rows.map(([species, stage, low, high]) => profile(species, [entry(stage, low, high)])),
    [],
    1,
  ).months[0]?.meanwhile ?? null;
const year = <T>(value: T): T[] => Array.from({ length: 12 }, () => value);

describe("limits while residents have nothing in common (a margin of 2 beyond an edge)", () => {
  test("a small gap leaves room between the harm of the one and of the other", () => {
    expect(meanwhile(["runner", "adult", 12, 20], ["skate", "egg or larva", 8, 11])).toMatchObject({
      asksLow: 12,
      asksHigh: 11,
      actionLow: 10,
      actionHigh: 13,
    });
  });
  test("where the limits cross the more sensitive stage has its own, whichever side it is on", () => {
    expect(meanwhile(["runner", "adult", 18, 24], ["skate", "egg or larva", 8, 11])).toMatchObject({
      actionLow: 6,
      actionHigh: 13,
    });
    expect(meanwhile(["runner", "pup or juvenile", 18, 24], ["skate", "adult", 8, 11])).toMatchObject({
      actionLow: 16,
      actionHigh: 26,
    });
  });
  test("between equals only what harms everybody rings", () => {
    expect(meanwhile(["runner", "adult", 18, 24], ["skate", "adult", 8, 11])).toMatchObject({
      actionLow: 6,
      actionHigh: 26,
    });
  });
  test("a limit that stood rings on only where it does not drive the water into the other's harm", () => {
    const crossed = meanwhile(["runner", "adult", 18, 24], ["skate", "egg or larva", 8, 11]);
    const stood = { low: 18, high: 24, actionLow: 16, actionHigh: 26, urgentLow: 15, urgentHigh: 27 };
    const { months, awaits } = keepTo([stood], year(null), [], year(crossed));
    expect(months).toMatchObject([{ actionLow: 6, actionHigh: 13, urgentLow: null, urgentHigh: null }]);
    expect(months[0]?.noCommonRange).toHaveLength(2);
    expect(awaits).toHaveLength(12);
    const near = meanwhile(["runner", "adult", 12, 20], ["skate", "egg or larva", 8, 11]);
    const tight = { ...stood, low: 10.8, high: 12.4, actionLow: 10.6, actionHigh: 12.5 };
    expect(keepTo([tight], year(null), [], year(near)).months).toMatchObject([
      { actionLow: 10.6, actionHigh: 12.5 },
    ]);
  });
});
