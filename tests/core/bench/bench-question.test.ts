/** When a typed result is asked about. The thresholds are our own (common practice, no source); masses of ions are IUPAC's. */
import * as fc from "fast-check";
import { describe, expect, test } from "vitest";
import { answerWords } from "#core/bench/answer.ts";
import { questionAbout } from "#core/bench/bench-question.ts";
import { BENCH_QUANTITIES, type BenchField, benchField } from "#core/bench/field.ts";
import { type BandEdges, NO_EDGES } from "#core/habitat/index.ts";

function fieldOf(id: string): BenchField {
  const field = benchField(id);
  if (!field) throw new Error(`no field for ${id}`);
  return field;
}
const band = (edges: Partial<BandEdges>): BandEdges => ({ ...NO_EDGES, ...edges });
function ask(
  id: string,
  value: number,
  last: readonly number[],
  edges: BandEdges | null = null,
  sign: "=" | "<" | ">" = "=",
) {
  const field = fieldOf(id);
  const [unit] = field.units;
  if (!unit) throw new Error("no unit");
  return questionAbout(field, { value, qualifier: sign, unit }, { last, band: edges });
}

const NITRATE = band({ high: 25, actionHigh: 60 });
const PH = band({ low: 7.9, high: 8.2, actionLow: 7.7, actionHigh: 8.4 });

describe("the question at the field", () => {
  test("nitrate as ion typed as nitrogen is asked about, with the unit that was probably meant", () => {
    // NO3 weighs 62.004 and its nitrogen 14.007 (IUPAC abridged weights): 28.1 as the ion is 6.35 as N.
    const asked = ask("nitrate", 28.1, [6.3, 6.2, 6.1], NITRATE);
    expect(asked).toMatchObject({ code: "far_from_last", perhaps: { typed: "mg{NO3}/L" } });
    expect(asked?.says).toContain("4.5 times");
    expect(asked?.says).toContain((28.1 * (14.007 / 62.004)).toFixed(1));
  });

  test.each<[string, number, readonly number[], BandEdges | null, string | null]>([
    ["nitrate", 6.5, [6.3, 6.2, 6.1], NITRATE, null],
    ["nitrate", 0.4, [6.3, 6.2, 6.1], NITRATE, "far_from_last"],
    ["total_ammonia", 0.06, [0.05, 0.04, 0.05], band({ high: 0.1, actionHigh: 0.3 }), null],
    ["total_ammonia", 0.9, [0.05, 0.04, 0.05], band({ high: 0.1, actionHigh: 0.3 }), "far_from_last"],
    ["ph", 8.1, [8.0, 8.02], PH, null],
    ["ph", 8.35, [8.0, 8.02], PH, "far_from_last"],
    ["ph", 11, [8.0, 8.02], PH, "outside_plausible_span"],
    ["temperature", 30, [], band({ low: 24, high: 27, actionLow: 22, actionHigh: 29 }), "past_action_limit"],
    ["temperature", 28, [], band({ low: 24, high: 27, actionLow: 22, actionHigh: 29 }), null],
    // Out as long as anybody remembers: it is known.
    ["ph", 8.45, [8.44, 8.43], PH, null],
    ["ph", 8.45, [], null, null],
  ])("%s %d after %j: %s", (id, value, last, edges, code) => {
    expect(ask(id, value, last, edges)?.code ?? null).toBe(code);
  });

  test("less than is never asked about", () => {
    expect(ask("nitrite", 0.02, [1, 1, 1], null, "<")).toBeNull();
  });

  test("the same value as the usual one is never far, whatever is measured", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...BENCH_QUANTITIES.map((one) => one.quantity)),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (id, share) => {
          const { plausible } = fieldOf(id);
          const value = plausible[0] + share * (plausible[1] - plausible[0]);
          expect(ask(id, value, [value, value, value])).toBeNull();
        },
      ),
    );
  });

  test("an answer reads in front of its question, or alone", () => {
    expect(answerWords("again", "Is it right?")).toBe("Not sure, test again. Is it right?");
    expect(answerWords("unanswered", null)).toBe("Asked and not answered.");
  });
});

describe("the fields", () => {
  test("every quantity can be typed in the registry's unit first, and each choice converts", () => {
    expect(BENCH_QUANTITIES.length).toBeGreaterThan(30);
    for (const { quantity } of BENCH_QUANTITIES) {
      const { units, unit } = fieldOf(quantity);
      expect(units[0]).toMatchObject({ typed: unit, factor: 1, offset: 0 });
      expect(new Set(units.map((one) => one.typed)).size).toBe(units.length);
    }
  });

  test("states and what is only computed have none", () => {
    for (const id of ["pump", "unionised_ammonia", "aragonite_saturation", "no_such"])
      expect(benchField(id)).toBeUndefined();
  });
});
