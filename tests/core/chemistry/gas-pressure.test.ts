import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { gasExcessAtDepth, gasSolubility, totalGasPressure } from "#core/chemistry/index.ts";
import { convert, degC, hPa, metres, mgPerL, mmHg, psu } from "#core/units/index.ts";

const barometer = (mm: number) => hPa(convert(mm, "mm[Hg]", "hPa"));

describe("total gas pressure", () => {
  it("moves with the barometer while the gas stays: 775 mmHg under 760 and under 742", () => {
    // Source: definition of TGP (Colt 1984).
    const tgp = (bp: number) =>
      totalGasPressure({ bp: barometer(bp), dp: mmHg(775 - bp), t: degC(20), s: psu(33) }).value;
    expect(tgp(760)).toBeCloseTo(101.97, 2);
    expect(tgp(742)).toBeCloseTo(104.45, 2);
  });

  it("is 100 % of everything in water at rest with the air", () => {
    // Source: Weiss 1970; 8.263 mg/L is Benson & Krause 1984 at 25 °C, so the two meet within 0.3 %.
    const rest = totalGasPressure({
      bp: barometer(760),
      dp: mmHg(0),
      t: degC(25),
      s: psu(0),
      do: mgPerL(8.263),
    });
    expect(rest.value).toBe(100);
    expect(Math.abs((rest.oxygenPercent as number) - 100)).toBeLessThan(0.3);
    expect(Math.abs((rest.nitrogenArgonPercent as number) - 100)).toBeLessThan(0.3);
  });

  it("adds its parts up to the whole", () => {
    const dp = fc.double({ min: -20, max: 150, noNaN: true });
    const mg = fc.double({ min: 0, max: 12, noNaN: true });
    const t = fc.double({ min: 1, max: 35, noNaN: true });
    const s = fc.double({ min: 0, max: 40, noNaN: true });
    fc.assert(
      fc.property(dp, mg, t, s, (excess, oxygen, temperature, salt) => {
        const one = totalGasPressure({
          bp: barometer(760),
          dp: mmHg(excess),
          t: degC(temperature),
          s: psu(salt),
          do: mgPerL(oxygen),
        });
        const parts = [
          one.oxygenPressure,
          one.vapourPressure,
          one.nitrogenArgonPressure,
        ] as readonly number[];
        expect(parts.reduce((a, b) => a + b)).toBeCloseTo(760 + excess, 8);
      }),
    );
  });

  it("does not tell the gases apart without oxygen, and refuses readings that contradict each other", () => {
    const without = totalGasPressure({ bp: barometer(760), dp: mmHg(30), t: degC(25), s: psu(35) });
    expect(without).toMatchObject({ status: "ok", oxygenPressure: null, nitrogenArgonPercent: null });
    const impossible = totalGasPressure({
      bp: barometer(760),
      dp: mmHg(0),
      t: degC(25),
      s: psu(0),
      do: mgPerL(60),
    });
    expect(impossible).toMatchObject({ value: null, status: "invalid" });
  });
});

describe("gas at depth", () => {
  it("is pressed into solution by about 75 mmHg a metre of sea water and 73 of fresh", () => {
    // Source: hydrostatics with EOS-80 density and standard gravity; conventional millimetre of mercury.
    expect(gasExcessAtDepth(mmHg(75.3), metres(1), degC(25), psu(35)).value).toBeCloseTo(0, 1);
    expect(gasExcessAtDepth(mmHg(73.3), metres(1), degC(25), psu(0)).value).toBeCloseTo(0, 1);
  });

  it("refuses a depth above the surface", () => {
    expect(gasExcessAtDepth(mmHg(10), metres(-1), degC(25), psu(35)).status).toBe("invalid");
  });
});

describe("gases in equilibrium with air", () => {
  it("are less soluble in warm and in salt water", () => {
    const gas = fc.constantFrom("N2", "Ar", "O2" as const);
    const t = fc.double({ min: 0, max: 29, noNaN: true });
    const s = fc.double({ min: 0, max: 39, noNaN: true });
    fc.assert(
      fc.property(gas, t, s, (name, temperature, salt) => {
        const here = gasSolubility(name, degC(temperature), psu(salt)).value as number;
        expect(gasSolubility(name, degC(temperature + 1), psu(salt)).value).toBeLessThan(here);
        expect(gasSolubility(name, degC(temperature), psu(salt + 1)).value).toBeLessThan(here);
      }),
    );
  });
});
