import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ammoniaFraction, convertPh, unionisedAmmonia } from "#core/chemistry/index.ts";
import { degC, mgPerLAsN, phUnits, psu } from "#core/units/index.ts";

const fraction = (ph: number, t: number, s: number, phScale: "nbs" | "total" = "nbs") =>
  ammoniaFraction({ ph: phUnits(ph), t: degC(t), s: psu(s), phScale });
const ammonia = (tan: number, ph: number, t: number, s: number, u = {}) =>
  unionisedAmmonia({ tan: mgPerLAsN(tan), ph: phUnits(ph), t: degC(t), s: psu(s), u });

describe("the share of ammonia that is NH3", () => {
  it.each([
    // Source: Emerson et al. 1975; the second also printed in Clinical Guide to Fish Medicine (Hadfield & Clayton 2021), table A2.3.
    [8, 20, 0.0381],
    [8, 18, 0.0331],
  ])("is the printed one in fresh water at pH %s and %s °C", (ph, t, expected) => {
    expect(Math.abs((fraction(ph, t, 0).value as number) - expected)).toBeLessThan(2e-4);
  });

  it.each([
    // Source: Clegg & Whitfield 1995 with fH of Takahashi et al. 1982, by PyCO2SYS 1.8.3.4.
    [10, 0.013],
    [15, 0.0191],
    [20, 0.0278],
    [25, 0.0398],
  ])("is the reference's in sea water of S 34 at NBS pH 8 and %s °C", (t, expected) => {
    expect(Math.abs((fraction(8, t, 34).value as number) - expected)).toBeLessThan(6e-5);
  });

  it("depends on the pH scale in sea water by a third", () => {
    // Source: Clegg & Whitfield 1995 with Takahashi et al. 1982: pH 8.0 of a probe in ordinary buffers is 7.86 on total.
    const asRead = fraction(8, 25, 35, "nbs").value as number;
    const asTotal = fraction(8, 25, 35, "total").value as number;
    expect(asTotal / asRead).toBeCloseTo(1.35, 2);
  });

  it("branches by the water that was set, not by the salinity of the sample", () => {
    const asSet = ammoniaFraction({ ph: phUnits(8), t: degC(25), s: psu(0.9), water: "brackish" });
    expect(asSet.formula).toMatch(/Clegg/);
    expect(fraction(8, 25, 0.9).formula).toMatch(/Emerson/);
    expect(fraction(8, 25, 1).formula).toMatch(/Clegg/);
  });

  it("marks what its authors did not measure", () => {
    expect(fraction(5, 25, 0).status).toBe("extrapolated");
    expect(fraction(8, 41, 35).status).toBe("extrapolated");
    expect(fraction(8, 25, 41, "total").status).toBe("extrapolated");
    expect(ammoniaFraction({ ph: phUnits(8), t: degC(25), s: psu(5), water: "fresh" }).status).toBe(
      "extrapolated",
    );
    expect(fraction(15, 25, 35)).toMatchObject({ value: null, status: "invalid" });
  });

  it("says so where the step from NBS to total is our own ramp", () => {
    expect(fraction(8, 25, 10).note).toMatch(/ramp/);
    expect(fraction(8, 25, 10, "total").note).toBeNull();
    expect(fraction(8, 25, 35).note).toBeNull();
  });

  it("rises with pH and with temperature and stays between 0 and 1", () => {
    const water = fc.constantFrom(0, 0.5, 5, 20, 35);
    fc.assert(
      fc.property(
        fc.double({ min: 6, max: 9.9, noNaN: true }),
        fc.double({ min: 0, max: 39, noNaN: true }),
        water,
        (ph, t, s) => {
          const here = fraction(ph, t, s, "total").value as number;
          expect(here).toBeGreaterThan(0);
          expect(here).toBeLessThan(1);
          expect(fraction(ph + 0.1, t, s, "total").value).toBeGreaterThan(here);
          expect(fraction(ph, t + 1, s, "total").value).toBeGreaterThan(here);
        },
      ),
    );
  });
});

describe("un-ionised ammonia", () => {
  it("keeps the two bases apart by their masses", () => {
    const result = ammonia(0.9, 7.9, 24, 33);
    // Source: NH3 over N, 17.031 / 14.007 by IUPAC weights.
    expect((result.asNH3 as number) / (result.value as number)).toBeCloseTo(1.215892, 6);
  });

  it("has an interval that holds the value, is even in the logarithm, and widens with each uncertainty", () => {
    const tan = fc.double({ min: 0.001, max: 10, noNaN: true });
    const ph = fc.double({ min: 6, max: 9.5, noNaN: true });
    const t = fc.double({ min: 1, max: 35, noNaN: true });
    const s = fc.double({ min: 0, max: 40, noNaN: true });
    const which = fc.constantFrom("ph", "t", "s", "tanRelative" as const);
    fc.assert(
      fc.property(tan, ph, t, s, which, (amount, p, temperature, salt, name) => {
        const u = { ph: 0.06, t: 0.2, s: 0.5, tanRelative: 0.1 };
        const result = ammonia(amount, p, temperature, salt, u);
        const [low, value, high] = [result.low as number, result.value as number, result.high as number];
        expect(low).toBeLessThan(value);
        expect(high).toBeGreaterThan(value);
        expect((low * high) / (value * value)).toBeCloseTo(1, 9);
        const wider = ammonia(amount, p, temperature, salt, { ...u, [name]: 2 * u[name] });
        const fresh = salt < 1;
        if (fresh && name === "s") expect(wider.high).toBe(high);
        else expect(wider.high).toBeGreaterThan(high);
      }),
    );
  });

  it("never trusts an ordinary probe in sea water to better than 0.05 pH", () => {
    // Source: scatter of electrodes behind Takahashi et al. 1982.
    expect(ammonia(0.1, 8, 25, 35, { ph: 0 }).high).toBe(ammonia(0.1, 8, 25, 35, { ph: 0.05 }).high);
    expect(ammonia(0.1, 8, 25, 0, { ph: 0 }).high).toBeLessThan(
      ammonia(0.1, 8, 25, 0, { ph: 0.05 }).high as number,
    );
  });

  it("adds the constant's own 5 % when everything else is perfect", () => {
    // Source: Clegg & Whitfield 1995, abstract.
    const perfect = { ph: 0, t: 0, s: 0, tanRelative: 0 };
    const total = unionisedAmmonia({
      tan: mgPerLAsN(0.1),
      ph: phUnits(8),
      phScale: "total",
      t: degC(25),
      s: psu(35),
      u: perfect,
    });
    expect(total.relativeUncertainty).toBeCloseTo(0.05 * (1 - (total.fraction as number)), 12);
  });

  it("is 0 in water without ammonia, and no number for a negative or an unknown amount", () => {
    expect(ammonia(0, 8, 25, 35)).toMatchObject({ value: 0, low: 0, high: 0, status: "ok" });
    for (const tan of [-0.01, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(ammonia(tan, 8, 25, 35)).toMatchObject({
        value: null,
        low: null,
        high: null,
        status: "invalid",
      });
    }
    expect(ammonia(0.1, 8, 25, 35, { ph: -1 }).status).toBe("invalid");
    expect(ammonia(0.1, 8, 25, 35, { t: Number.NaN }).status).toBe("invalid");
  });
});

describe("pH on another scale", () => {
  it("comes back, in any water", () => {
    const scale = fc.constantFrom("nbs", "total", "sws", "free" as const);
    fc.assert(
      fc.property(
        scale,
        scale,
        fc.double({ min: 5, max: 9.5, noNaN: true }),
        fc.double({ min: 0, max: 40, noNaN: true }),
        fc.double({ min: 0, max: 40, noNaN: true }),
        (from, to, ph, s, t) => {
          const there = convertPh(phUnits(ph), from, to, psu(s), degC(t)).value as number;
          const back = convertPh(phUnits(there), to, from, psu(s), degC(t)).value as number;
          expect(back).toBeCloseTo(ph, 10);
        },
      ),
    );
  });

  it("is one scale where there is no salt", () => {
    // Source: definition; no sulphate, no fluoride, no ionic strength.
    for (const to of ["nbs", "sws", "free"] as const) {
      expect(convertPh(phUnits(7.4), "total", to, psu(0), degC(25)).value).toBeCloseTo(7.4, 12);
    }
  });

  it("has no jump where the ramp meets the published step", () => {
    const below = convertPh(phUnits(8), "nbs", "total", psu(19.9999), degC(25)).value as number;
    const above = convertPh(phUnits(8), "nbs", "total", psu(20), degC(25)).value as number;
    expect(Math.abs(above - below)).toBeLessThan(1e-5);
  });
});
