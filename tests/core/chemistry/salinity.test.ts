import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  conductivityFromSalinity,
  conductivityFromSpecificConductance,
  practicalSalinity,
  specificConductance25,
} from "#core/chemistry/index.ts";
import { dbar, degC, msPerCm, psu, usPerCm } from "#core/units/index.ts";

const temperature = fc.double({ min: -2, max: 35, noNaN: true });
const salinity = fc.double({ min: 0, max: 42, noNaN: true });
const pressure = fc.double({ min: 0, max: 50, noNaN: true });

describe("practical salinity", () => {
  it("is 35 for standard sea water at 15 °C of the older temperature scale", () => {
    // Source: definition of the Practical Salinity Scale 1978, UNESCO 44.
    expect(practicalSalinity(msPerCm(42.914), degC(15 / 1.00024)).value).toBeCloseTo(35, 5);
  });

  it("is exactly 0 without conductivity, and no number below it", () => {
    expect(practicalSalinity(msPerCm(0), degC(20))).toMatchObject({ value: 0, status: "ok" });
    expect(practicalSalinity(msPerCm(-0.001), degC(20))).toMatchObject({ value: null, status: "invalid" });
  });

  it("marks what lies outside the scale instead of hiding it", () => {
    // Source: UNESCO 44: S 2 to 42, -2 to 35 °C.
    expect(practicalSalinity(msPerCm(60), degC(10)).status).toBe("extrapolated");
    expect(practicalSalinity(msPerCm(40), degC(36)).status).toBe("extrapolated");
    expect(practicalSalinity(msPerCm(20), degC(-3)).status).toBe("extrapolated");
    expect(practicalSalinity(msPerCm(40), degC(35)).status).toBe("ok");
    expect(practicalSalinity(msPerCm(40), degC(150))).toMatchObject({ value: null, status: "invalid" });
    expect(practicalSalinity(msPerCm(190), degC(5))).toMatchObject({ value: null, status: "invalid" });
  });

  it("rises with conductivity", () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 70, noNaN: true }), temperature, pressure, (c, t, p) => {
        const one = practicalSalinity(msPerCm(c), degC(t), dbar(p)).value;
        const more = practicalSalinity(msPerCm(c + 0.01), degC(t), dbar(p)).value;
        expect(more).toBeGreaterThan(one as number);
      }),
    );
  });

  it("falls with temperature at one conductivity: warm water conducts better", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 55, noNaN: true }),
        fc.double({ min: 0, max: 34, noNaN: true }),
        (c, t) => {
          const cool = practicalSalinity(msPerCm(c), degC(t)).value as number;
          expect(practicalSalinity(msPerCm(c), degC(t + 0.5)).value).toBeLessThan(cool);
        },
      ),
    );
  });

  it("comes back from conductivity to a ten-millionth", () => {
    fc.assert(
      fc.property(salinity, temperature, pressure, (s, t, p) => {
        const c = conductivityFromSalinity(psu(s), degC(t), dbar(p)).value as number;
        const back = practicalSalinity(msPerCm(c), degC(t), dbar(p)).value as number;
        expect(Math.abs(back - s)).toBeLessThan(1e-7);
      }),
    );
  });

  it("takes a missing pressure for a bench", () => {
    expect(practicalSalinity(msPerCm(50), degC(25))).toEqual(
      practicalSalinity(msPerCm(50), degC(25), dbar(0)),
    );
  });
});

describe("specific conductance", () => {
  it("is the raw conductivity at 25 °C, in uS/cm", () => {
    expect(specificConductance25(msPerCm(0.62), degC(25))).toMatchObject({ value: 620, status: "ok" });
  });

  it("comes back through the meter's own coefficient", () => {
    const alpha = fc.double({ min: 0.015, max: 0.025, noNaN: true });
    fc.assert(
      fc.property(fc.double({ min: 0, max: 70, noNaN: true }), temperature, alpha, (c, t, a) => {
        const k25 = specificConductance25(msPerCm(c), degC(t), a).value as number;
        const back = conductivityFromSpecificConductance(usPerCm(k25), degC(t), a).value as number;
        expect(back).toBeCloseTo(c, 9);
      }),
    );
  });

  it("shows what feeding a compensated value as raw does: standard sea water at 15 °C reads above 42", () => {
    // Source: PSS-78; S 35 at 15 °C conducts 42.914 mS/cm.
    const compensated = specificConductance25(msPerCm(42.914), degC(15)).value as number;
    const wrong = practicalSalinity(msPerCm(compensated / 1000), degC(15)).value as number;
    expect(wrong).toBeGreaterThan(42);
  });

  it("refuses a coefficient that no water has", () => {
    expect(specificConductance25(msPerCm(1), degC(20), 2).status).toBe("invalid");
    expect(specificConductance25(msPerCm(1), degC(20), -0.01).status).toBe("invalid");
  });
});
