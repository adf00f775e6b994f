import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Standard } from "#core/probes/calibration.ts";
import {
  corrected,
  foundError,
  foundPoints,
  judgeError,
  lineFound,
  worstPoint,
} from "#core/probes/correct.ts";
import { workedCase } from "./worked-cases.ts";

// Source of the cases: Wagner and others 2006, USGS TM 1-D3; two standards after Hasenmueller 2011.
describe("drift between two visits is taken back as the published cases have it", () => {
  const hold = (name: string, fouling: number, standards: readonly Standard[]) => {
    const known = workedCase(name);
    const spread = { from: known.number("t_start"), to: known.number("t_end"), fouling, standards };
    const values = known
      .numbers("y")
      .map((value, i) => corrected(value, known.numbers("t")[i] as number, spread));
    for (const [i, value] of values.entries())
      expect(value, `${name} ${i}: ${known.source}`).toBeCloseTo(
        known.expectedList("corrected")[i] as number,
        6,
      );
  };
  test("one error at the end", () => {
    hold("dc-01", workedCase("dc-01").number("error_at_end"), []);
  });
  test("fouling and drift found apart and added", () => {
    const drift = workedCase("dc-02").number("calibration_drift_error");
    hold("dc-02", workedCase("dc-02").number("fouling_error"), [{ value: 7, read: 7 - drift }]);
  });
  test("two standards rescale", () => {
    const known = workedCase("dc-03");
    hold("dc-03", 0, [
      { value: known.number("standard_low"), read: known.number("read_low") },
      { value: known.number("standard_high"), read: known.number("read_high") },
    ]);
  });
});

test("outside the two visits nothing is corrected, at the second everything, and a visit without time corrects nothing", () => {
  const spread = { from: 10, to: 20, fouling: -0.4, standards: [] };
  expect(corrected(8, 9, spread)).toBe(8);
  expect(corrected(8, 21, spread)).toBe(8);
  expect(corrected(8, 10, spread)).toBe(8);
  expect(corrected(8, 20, spread)).toBeCloseTo(7.6, 12);
  expect(corrected(8, 10, { ...spread, to: 10 })).toBe(8);
});

test("a correction is linear in time between the visits", () => {
  const number = fc.double({ min: -5, max: 5, noNaN: true });
  fc.assert(
    fc.property(number, number, fc.double({ min: 0, max: 1, noNaN: true }), (fouling, drift, share) => {
      const spread = { from: 0, to: 1, fouling, standards: [{ value: 7 + drift, read: 7 }] };
      expect(corrected(8, share, spread) - 8).toBeCloseTo(share * (fouling + drift), 9);
    }),
  );
});

describe("the error a visit found", () => {
  const visit = { before: 8.31, after: 8.27, moved: null, standards: [{ value: 7, read: 7.05 }] };
  test("is what cleaning changed and what a standard showed", () => {
    const found = foundError(visit);
    expect(found?.fouling).toBeCloseTo(-0.04, 12);
    expect(found?.drift).toBeCloseTo(-0.05, 12);
    expect(found?.total).toBeCloseTo(-0.09, 12);
  });
  test("leaves out what the water itself did meanwhile", () => {
    expect(foundError({ ...visit, moved: -0.01 })?.fouling).toBeCloseTo(-0.03, 12);
  });
  test("is not known where nothing was read twice", () => {
    expect(foundError({ ...visit, before: null, standards: [] })).toBeNull();
  });
  test("at a reading between two standards is their errors in proportion", () => {
    const two = {
      ...visit,
      before: null,
      after: null,
      standards: [
        { value: 7, read: 7.1 },
        { value: 10, read: 10.3 },
      ],
    };
    // Read 8.7, half way from 7.1 to 10.3, is half way from 7 to 10.
    expect(foundError(two, 8.7)?.drift).toBeCloseTo(-0.2, 12);
  });
});

describe("a visit with two standards", () => {
  const visit = { before: null, after: null, moved: null };
  const wrongHigh = [
    { value: 7, read: 7 },
    { value: 10, read: 9.1 },
  ];
  test("is judged by the standard in which the probe was furthest off, in whatever order they were read", () => {
    for (const standards of [wrongHigh, wrongHigh.toReversed()])
      expect(worstPoint("ph", foundPoints({ ...visit, standards }))).toMatchObject({
        standard: 10,
        error: expect.closeTo(0.9, 12),
        grade: "poor",
      });
  });
  test("is judged in the water too, where that lies outside the standards", () => {
    const standards = [
      { value: 7, read: 7.1 },
      { value: 8, read: 8.2 },
    ];
    const worst = worstPoint("ph", foundPoints({ ...visit, before: 9.4, after: null, standards }));
    expect(worst).toMatchObject({ standard: null, error: expect.closeTo(9.0909 - 9.4, 3) });
  });
  test("by percent where the criteria are in percent: a small error in a weak standard", () => {
    const standards = [
      { value: 84, read: 100 },
      { value: 12_880, read: 12_860 },
    ];
    expect(worstPoint("specific_conductance", foundPoints({ ...visit, standards }))).toMatchObject({
      standard: 84,
      grade: "poor",
    });
  });
  test("has a slope and an offset", () => {
    expect(lineFound(wrongHigh)).toEqual({ slope: expect.closeTo(70, 9), offset: 0 });
    expect(lineFound([{ value: 7, read: 7.1 }])).toBeNull();
  });
});

// Figures of USGS TM 1-D3 from memory.
test.each([
  ["ph", 0.2, 8, false, "excellent"],
  ["ph", 0.21, 8, true, "good"],
  ["ph", -0.9, 8, true, "poor"],
  ["dissolved_oxygen", 0.31, 8, true, "good"],
  ["temperature", 0.6, 25, true, "fair"],
  ["specific_conductance", 8, 500, false, "excellent"],
  ["specific_conductance", 40, 500, true, "good"],
] as const)("an error of %s by %d at %d", (quantity, error, value, worthCorrecting, grade) => {
  expect(judgeError(quantity, error, value)).toEqual({ worthCorrecting, grade });
});
test("quantities the criteria do not speak of are not judged", () => {
  expect(judgeError("orp", 50, 300)).toBeNull();
});
