/** What the published tables of the carbonate system are too coarse to see. */
import { describe, expect, it } from "vitest";
import {
  carbonateConstants,
  equivalentsPerCarbonNumber,
  minorAlkalinityNumber,
} from "#core/chemistry/carbonate-constants.ts";
import {
  type CarbonatePart,
  carbonateFromPhAlkalinity,
  carbonateUncertainty,
  type PhScale,
} from "#core/chemistry/index.ts";
import { degC, meqPerL, phUnits, psu } from "#core/units/index.ts";

describe("the alkalinity of everything but carbonate", () => {
  // An acid is half dissociated where hydrogen ion equals its constant: the definition of the constant.
  it.each<[string, readonly number[], number]>([
    ["half of the borate", [2, 1, 0, 0, 1, 0, 1, 1, 1], 1 - 1],
    ["hydroxide", [0, 1, 5, 0, 1, 0, 1, 1, 1], 5 - 1],
    ["half of the sulphate, against it", [0, 1, 0, 4, 1, 0, 1, 1, 1], -2 - 1],
    ["half of the fluoride, against it", [0, 1, 0, 0, 1, 3, 1, 1, 1], -1.5 - 1],
    ["free hydrogen ion, less than the total", [0, 1, 0, 0, 1, 0, 1, 4, 1], -0.25],
  ])("counts %s", (_name, given, expected) => {
    expect(minorAlkalinityNumber(...(given as Parameters<typeof minorAlkalinityNumber>))).toBeCloseTo(
      expected,
      12,
    );
  });

  it("leaves one equivalent a carbon where there is only bicarbonate, two where there is only carbonate", () => {
    expect(equivalentsPerCarbonNumber(1e-6, 1e-10, 1e-8)).toBeCloseTo(1, 1);
    expect(equivalentsPerCarbonNumber(1e-6, 1e-10, 1e-14)).toBeCloseTo(2, 3);
    expect(equivalentsPerCarbonNumber(1e-6, 1e-10, 1e-2)).toBeCloseTo(0, 3);
  });
});

describe("ionic strength in fresh water", () => {
  it("lowers both constants as the Davies equation does, and no other set's", () => {
    const shift = (set: "fresh" | "lueker" | "waters", of: "k1" | "k2") =>
      Math.log10(
        carbonateConstants(set, 25, set === "fresh" ? 0 : 35, 0.1)[of] /
          carbonateConstants(set, 25, set === "fresh" ? 0 : 35)[of],
      );
    // Activity of a singly charged ion at 0.1 mol/L by Davies: 0.78, so log10 is -0.107 (Stumm & Morgan, Aquatic Chemistry; from memory).
    expect(shift("fresh", "k1")).toBeCloseTo(0.107, 3);
    expect(shift("fresh", "k2")).toBeCloseTo(3 * 0.107, 2);
    for (const set of ["lueker", "waters"] as const)
      expect([shift(set, "k1"), shift(set, "k2")]).toEqual([0, 0]);
  });
});

describe("the uncertainty of a part", () => {
  const water = (more: { s?: number; water?: "fresh" | "brackish" | "marine"; phScale?: PhScale } = {}) => ({
    ph: phUnits(8.1),
    alkalinity: meqPerL(2.4),
    t: degC(20),
    s: psu(more.s ?? 33),
    ...(more.water ? { water: more.water } : {}),
    ...(more.phScale ? { phScale: more.phScale } : {}),
  });
  const none = { ph: 0, alkalinityRelative: 0, t: 0, s: 0, calciumRelative: 0 };
  const of = (asked: ReturnType<typeof water>, part: CarbonatePart, u: Partial<typeof none>) =>
    carbonateUncertainty(asked, part, { ...none, ...u }, 0);

  it("is none where nothing is uncertain, on either scale", () => {
    for (const phScale of ["nbs", "total"] as const) expect(of(water({ phScale }), "pco2", {})).toBe(0);
  });

  it("takes at least the floor of an NBS electrode in salt water, in fresh water and on total what is asked", () => {
    const least = (asked: ReturnType<typeof water>) => of(asked, "pco2", { ph: 0.001 }) ?? Number.NaN;
    const floor = of(water({ phScale: "nbs" }), "pco2", { ph: 0.05 });
    expect(least(water({ phScale: "nbs" }))).toBe(floor);
    expect(least(water())).toBe(floor);
    expect(least(water({ phScale: "total" }))).toBeLessThan(0.005);
    expect(least(water({ s: 0.3, water: "fresh", phScale: "nbs" }))).toBeLessThan(0.005);
  });

  it("carries calcium into both saturation states and nowhere else", () => {
    const u = { calciumRelative: 0.07 };
    expect(of(water(), "aragoniteSaturation", u)).toBeCloseTo(0.07, 9);
    expect(of(water(), "calciteSaturation", u)).toBeCloseTo(0.07, 9);
    expect(of(water(), "pco2", u)).toBe(0);
  });

  it("does not look at the salinity of fresh water, named or told by its salinity, and does at that of thin brackish", () => {
    expect(of(water({ s: 0.3 }), "pco2", { s: 0.2 })).toBe(0);
    expect(of(water({ s: 5, water: "fresh" }), "pco2", { s: 0.2 })).toBe(0);
    expect(of(water({ s: 5, water: "brackish" }), "pco2", { s: 0.2 })).toBeGreaterThan(0.001);
    // As near to none as it gets: the step to the side must not go below it.
    expect(of(water({ s: 0.02, water: "brackish" }), "pco2", { s: 0.01 })).toBeGreaterThan(0);
  });

  it("is not known where there is no part", () => {
    expect(of(water({ s: 0.3, water: "fresh" }), "aragoniteSaturation", { ph: 0.05 })).toBeNull();
  });

  it("is smaller than what the inputs bring about together", () => {
    const { value } = carbonateFromPhAlkalinity(water({ phScale: "total" }));
    expect(value?.pco2).toBeGreaterThan(200);
    const both = of(water({ phScale: "total" }), "pco2", { ph: 0.02, alkalinityRelative: 0.03 });
    const [ph, alkalinity] = [{ ph: 0.02 }, { alkalinityRelative: 0.03 }].map((u) =>
      of(water({ phScale: "total" }), "pco2", u),
    );
    expect(both).toBeCloseTo(Math.hypot(ph ?? Number.NaN, alkalinity ?? Number.NaN), 12);
  });
});
