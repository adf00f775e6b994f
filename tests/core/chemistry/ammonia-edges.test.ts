/** Where the equations of un-ionised ammonia hold, which of them a water gets, and what is refused: edge by edge. */
import { describe, expect, it } from "vitest";
import {
  ammoniaFraction,
  convertPh,
  type PhScale,
  unionisedAmmonia,
  type Water,
} from "#core/chemistry/index.ts";
import { degC, mgPerLAsN, phUnits, psu } from "#core/units/index.ts";

interface Asked {
  readonly water: Water;
  readonly ph?: number;
  readonly t?: number;
  readonly s?: number;
  readonly phScale?: PhScale;
  readonly tan?: number;
  readonly u?: {
    readonly ph?: number;
    readonly t?: number;
    readonly s?: number;
    readonly tanRelative?: number;
  };
}
const inputOf = ({ water, ph = 8, t = 20, s = water === "fresh" ? 0.2 : 33, phScale }: Asked) => ({
  ph: phUnits(ph),
  t: degC(t),
  s: psu(s),
  water,
  ...(phScale === undefined ? {} : { phScale }),
});
const fraction = (asked: Asked) => ammoniaFraction(inputOf(asked));
const ammonia = (asked: Asked) =>
  unionisedAmmonia({
    ...inputOf(asked),
    tan: mgPerLAsN(asked.tan ?? 1),
    ...(asked.u === undefined ? {} : { u: asked.u }),
  });

describe("the range of each equation", () => {
  // Emerson et al. 1975: fresh water of 0 to 50 °C and pH 6 to 10. Clegg & Whitfield 1995: S 0 to 40, -2 to 40 °C. NBS step: 0 to 40 °C.
  it.each<[string, Asked, "ok" | "extrapolated"]>([
    ["fresh, pH 6", { water: "fresh", ph: 6 }, "ok"],
    ["fresh, pH 5.99", { water: "fresh", ph: 5.99 }, "extrapolated"],
    ["fresh, pH 10", { water: "fresh", ph: 10 }, "ok"],
    ["fresh, pH 10.01", { water: "fresh", ph: 10.01 }, "extrapolated"],
    ["fresh, 0 °C", { water: "fresh", t: 0 }, "ok"],
    ["fresh, -0.01 °C", { water: "fresh", t: -0.01 }, "extrapolated"],
    ["fresh, 50 °C", { water: "fresh", t: 50 }, "ok"],
    ["fresh, 50.01 °C", { water: "fresh", t: 50.01 }, "extrapolated"],
    ["fresh, S 0.99", { water: "fresh", s: 0.99 }, "ok"],
    ["fresh, S 1", { water: "fresh", s: 1 }, "extrapolated"],
    ["marine on total, -1 °C", { water: "marine", t: -1, phScale: "total" }, "ok"],
    ["marine on NBS, -1 °C", { water: "marine", t: -1, phScale: "nbs" }, "extrapolated"],
    ["marine on total, -2 °C", { water: "marine", t: -2, phScale: "total" }, "ok"],
    ["marine on total, -2.01 °C", { water: "marine", t: -2.01, phScale: "total" }, "extrapolated"],
    ["marine, 40 °C", { water: "marine", t: 40, phScale: "total" }, "ok"],
    ["marine, 40.01 °C", { water: "marine", t: 40.01, phScale: "total" }, "extrapolated"],
    ["marine, S 40", { water: "marine", s: 40, phScale: "total" }, "ok"],
    ["marine, S 40.01", { water: "marine", s: 40.01, phScale: "total" }, "extrapolated"],
  ])("%s", (_name, asked, status) => {
    expect(fraction(asked).status).toBe(status);
    expect(ammonia(asked).status).toBe(status);
  });
});

describe("the scale of a pH", () => {
  it("is NBS where none is named, in every water", () => {
    for (const water of ["fresh", "brackish", "marine"] as const) {
      expect(fraction({ water })).toEqual(fraction({ water, phScale: "nbs" }));
      expect(ammonia({ water })).toEqual(ammonia({ water, phScale: "nbs" }));
    }
  });

  it("is taken to NBS for fresh water, and to total for the rest", () => {
    for (const [water, s, to] of [
      ["fresh", 0.5, "nbs"],
      ["brackish", 12, "total"],
      ["marine", 33, "total"],
    ] as const)
      for (const phScale of ["nbs", "total", "free", "sws"] as const) {
        const converted = convertPh(phUnits(8), phScale, to, psu(s), degC(20)).value;
        expect(fraction({ water, s, phScale }).phUsed).toBeCloseTo(converted ?? Number.NaN, 12);
      }
  });

  it("says that the step between the two is our own below S 20, where the step is taken at all", () => {
    const note = (asked: Asked) => [fraction(asked).note, ammonia(asked).note];
    expect(note({ water: "brackish", s: 12, phScale: "nbs" }).join()).toMatch(/ramp.*ramp/);
    expect(note({ water: "brackish", s: 12, phScale: "total" })).toEqual([null, null]);
    expect(note({ water: "fresh", s: 0.5, phScale: "total" }).join()).toMatch(/ramp.*ramp/);
    expect(note({ water: "fresh", s: 0.5, phScale: "nbs" })).toEqual([null, null]);
    expect(note({ water: "marine", phScale: "nbs" })).toEqual([null, null]);
  });
});

describe("un-ionised ammonia", () => {
  it("names the equation of its water, with a result and without", () => {
    for (const water of ["fresh", "brackish", "marine"] as const) {
      const expected = water === "fresh" ? /Emerson/ : /Clegg & Whitfield/;
      expect(ammonia({ water }).formula).toMatch(expected);
      expect(ammonia({ water, tan: -1 }).formula).toMatch(expected);
    }
  });

  it.each<[string, Partial<Asked>, RegExp]>([
    ["no number", { tan: Number.NaN }, /not a finite number/],
    ["an infinite one", { tan: Number.POSITIVE_INFINITY }, /not a finite number/],
    ["less than none", { tan: -0.001 }, /cannot be negative/],
    ["more than any water holds", { tan: 1_000_001 }, /impossibly high/],
    ["an uncertainty of pH below 0", { u: { ph: -0.01 } }, /uncertainty is negative/],
    ["of temperature", { u: { t: -0.01 } }, /uncertainty is negative/],
    ["of salinity", { u: { s: -0.01 } }, /uncertainty is negative/],
    ["of the test", { u: { tanRelative: -0.01 } }, /uncertainty is negative/],
    ["no uncertainty at all", { u: { ph: Number.NaN } }, /uncertainty is negative or not a number/],
  ])("of %s is refused with the reason", (_name, more, reason) => {
    const found = ammonia({ water: "marine", ...more });
    expect(found).toMatchObject({ value: null, low: null, high: null, status: "invalid" });
    expect(found.note).toMatch(reason);
  });

  it("takes the most that is allowed, none, and certainty", () => {
    expect(ammonia({ water: "marine", tan: 1e6 }).value).not.toBeNull();
    expect(ammonia({ water: "marine", tan: 0 }).value).toBe(0);
    const certain = ammonia({ water: "fresh", u: { ph: 0, t: 0, s: 0, tanRelative: 0 } });
    // What is left is the constant's own 5 %, of the share that is not NH3.
    expect(certain.relativeUncertainty).toBeCloseTo(0.05 * (1 - (certain.fraction ?? Number.NaN)), 6);
  });
});
