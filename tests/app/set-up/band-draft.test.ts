import { describe, expect, it } from "vitest";
import { numberOf } from "#app/_components/controls/typed-number.ts";
import { NOTHING, readTyped, typedOf } from "#app/set-up/_parts/bands/band-draft.ts";
import { withBand } from "#app/set-up/_parts/bands/band-preview.tsx";
import { edges, stream } from "../views.ts";

describe("a band as it is typed", () => {
  it("reads a comma as a point, a true minus as a minus, nothing as open, and refuses what is no number", () => {
    expect(["8,25", " 7.9 ", "−1.5", "", "8.", ".5"].map(numberOf)).toEqual([8.25, 7.9, -1.5, null, 8, 0.5]);
    expect(["8.2.1", "1e3", "high", "0x10", "--1"].map(numberOf)).toEqual(Array(5).fill(undefined));
  });

  it("names a fault at the field to mend", () => {
    expect(readTyped({ ...NOTHING, low: "13", high: "15", actionHigh: "14.5" }).wrong).toEqual({
      actionHigh: "action limit 14.5 must be above the high edge 15",
    });
    expect(Object.keys(readTyped({ ...NOTHING, low: "16", high: "15", urgentLow: "x" }).wrong)).toEqual([
      "urgentLow",
    ]);
    expect(readTyped({ ...NOTHING, actionLow: "10" }).wrong.low).toContain("needs a low edge");
    expect(readTyped(NOTHING).wrong.low).toContain("at least one edge");
    expect(readTyped({ ...NOTHING, low: "13", high: "15" })).toEqual({
      edges: edges(13, 15, null, null),
      wrong: {},
    });
  });

  it("opens with what was set, not with what is shown of it", () => {
    expect(typedOf(edges(14.4, 16.25, null, -1.5), 1)).toMatchObject({
      low: "14.4",
      high: "16.25",
      actionLow: "",
      actionHigh: "-1.5",
    });
  });
});

describe("what a band would change", () => {
  it("stands by the distance past its edge: 1 is at the action limit (design rule of deviations)", () => {
    const at = stream({ value: 15.5 });
    expect(withBand(at, edges(13, 15, 11, 16))).toMatchObject({ deviation: 0.5, standing: "look" });
    expect(withBand(at, edges(13, 14.5, 11, 15))).toMatchObject({ deviation: 2, standing: "action" });
    expect(withBand(at, edges(13, 16, 11, 17))).toMatchObject({ deviation: 0, standing: "calm" });
  });

  it("says nothing of water whose reading cannot be believed", () => {
    const doubtful = stream({ value: 15.5, flag: 3, standing: "unknown", deviation: null });
    expect(withBand(doubtful, edges(10, 11, 9, 12))).toMatchObject({ standing: "unknown", deviation: null });
  });
});
