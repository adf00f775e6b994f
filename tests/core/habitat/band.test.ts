import { describe, expect, test } from "vitest";
import { type BandEdges, bandFor, edgesAt, planAt, type TargetBand } from "#core/habitat/index.ts";
import { edges } from "#tests/helpers/small-site.ts";

const ZONE = "Europe/London";
const monthly = (values: readonly number[]): BandEdges[] => values.map((high) => edges({ high }));

describe("edges between months", () => {
  // W English Channel monthly surface means (COADS climatology, 49 N 5 W): October 14.6, November 13.2; 1 November is 13.8.
  const channel = monthly([10.8, 10.2, 10.0, 10.5, 11.8, 14.0, 15.8, 16.4, 15.7, 14.6, 13.2, 12.0]);
  test("run linearly from mid-month to mid-month", () => {
    const at = Date.UTC(2026, 10, 1);
    expect(edgesAt(channel, at, "UTC").high).toBeCloseTo(14.6 - (1.4 * 17) / 31, 9);
  });
  test("hold exactly at mid-month, in the site's zone", () => {
    // 15 July 00:00 in London is 23:00 UTC of the 14th.
    expect(edgesAt(channel, Date.UTC(2026, 6, 14, 23), ZONE).high).toBe(15.8);
  });
  test("run over the turn of the year", () => {
    expect(edgesAt(channel, Date.UTC(2026, 0, 1), "UTC").high).toBeCloseTo(12.0 - (1.2 * 17) / 31, 9);
  });
  test("a side that one of the two months leaves open is open", () => {
    const open = [...channel];
    open[9] = edges({});
    expect(edgesAt(open, Date.UTC(2026, 10, 1), "UTC").high).toBeNull();
  });
  test("are 1 or 12, nothing else", () =>
    expect(() => edgesAt(channel.slice(0, 3), 0, "UTC")).toThrow(/1 or 12 months, not 3/));
});

describe("the band in force", () => {
  const band = (id: string, given: Partial<TargetBand>): TargetBand => ({
    id,
    system: "s",
    quantity: "temperature",
    point: null,
    months: [edges({ high: 1 })],
    validFrom: 0,
    validTo: null,
    recordedAt: 0,
    setBy: "",
    reason: "",
    source: "",
    ...given,
  });
  const bands = [
    band("all", {}),
    band("display", { point: "display" }),
    band("from-100", { validFrom: 100 }),
    band("from-100-corrected", { validFrom: 100, recordedAt: 7 }),
    band("course", { point: "display", validFrom: 200, validTo: 300 }),
  ];
  const idAt = (point: string, at: number) => bandFor(bands, "s", "temperature", point, at)?.id;
  test("a point's own comes before the system's, however old", () =>
    expect(idAt("display", 150)).toBe("display"));
  test("of several the one that began last, then the one recorded last", () => {
    expect(idAt("sump", 50)).toBe("all");
    expect(idAt("sump", 100)).toBe("from-100-corrected");
  });
  test("ends when it says so, that instant excluded", () => {
    expect(idAt("display", 299)).toBe("course");
    expect(idAt("display", 300)).toBe("display");
  });
  test("is nothing for another quantity or system", () => {
    expect(bandFor(bands, "s", "ph", "display", 0)).toBeUndefined();
    expect(bandFor(bands, "t", "temperature", "display", 0)).toBeUndefined();
  });
});

describe("plans", () => {
  test("a tide is highest at its high water and lowest half a period later", () => {
    const tide = {
      kind: "tide",
      mean: 13,
      amplitude: 5,
      periodMs: 12.42 * 3_600_000,
      highAt: 1_000_000,
    } as const;
    expect(planAt(tide, 1_000_000)).toBe(18);
    expect(planAt(tide, 1_000_000 + tide.periodMs / 2)).toBeCloseTo(8, 9);
  });
  test("points run linearly and hold at both ends", () => {
    const ramp = {
      kind: "points",
      points: [
        [100, 10],
        [200, 12],
      ],
    } as const;
    expect([0, 100, 150, 200, 900].map((at) => planAt(ramp, at))).toEqual([10, 10, 11, 12, 12]);
  });
});
