import { describe, expect, it } from "vitest";
import { salinityFromHydrometer, specificGravity } from "#core/chemistry/index.ts";
import { degC, psu, pureNumber } from "#core/units/index.ts";

const hydrometer = (reading: number, t: number, tCal = 25, tRef = 25, glassExpansion = 25e-6) =>
  salinityFromHydrometer({
    reading: pureNumber(reading),
    t: degC(t),
    tCal: degC(tCal),
    tRef: degC(tRef),
    glassExpansion,
  });

describe("specific gravity", () => {
  it("is extrapolated when either of its temperatures is past 40 °C (EOS-80), and ok when neither is", () => {
    const of = (t: number, tRef: number) => specificGravity(psu(35), degC(t), degC(tRef)).status;
    expect([of(40, 40), of(41, 25), of(25, 41)]).toEqual(["ok", "extrapolated", "extrapolated"]);
  });

  it("names the input that allows no number", () => {
    expect(specificGravity(psu(35), degC(25), degC(120)).note).toMatch(/no liquid water to measure/);
    expect(specificGravity(psu(121), degC(25), degC(25)).note).toMatch(/salinity is outside/);
  });
});

describe("a hydrometer", () => {
  it.each([
    [Number.NaN, 25, 25, 25, 25e-6, /not a finite number/],
    [1.02, Number.NaN, 25, 25, 25e-6, /not a finite number/],
    [1.02, 25, Number.NaN, 25, 25e-6, /not a finite number/],
    [1.02, 25, 25, Number.NaN, 25e-6, /not a finite number/],
    [1.02, 25, 25, 25, Number.NaN, /not a finite number/],
    [1.02, 120, 25, 25, 25e-6, /no liquid water to measure/],
    [1.02, 25, 120, 25, 25e-6, /no liquid water to measure/],
    [1.02, 25, 25, 120, 25e-6, /no liquid water to measure/],
    [1.02, 25, 25, 25, -1e-6, /glass expansion/],
    [1.02, 25, 25, 25, 1.01e-4, /glass expansion/],
  ])("of %d at %d °C, %d/%d, expansion %d is refused by name", (reading, t, tCal, tRef, expansion, note) => {
    const found = hydrometer(reading, t, tCal, tRef, expansion);
    expect(found).toMatchObject({ value: null, status: "invalid" });
    expect(found.note).toMatch(note);
  });

  it("takes glass that does not expand, and the most that is allowed", () => {
    expect(hydrometer(1.02, 20, 25, 25, 0).status).toBe("ok");
    expect(hydrometer(1.02, 20, 25, 25, 1e-4).status).toBe("ok");
  });
});
