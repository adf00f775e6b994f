import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  oxygenFromPercent,
  oxygenPercent,
  oxygenSaturation,
  stationPressure,
} from "#core/chemistry/index.ts";
import { degC, hPa, metres, mgPerL, percent, psu } from "#core/units/index.ts";

const t = fc.double({ min: 0, max: 39, noNaN: true });
const s = fc.double({ min: 0, max: 39, noNaN: true });
const p = fc.double({ min: 600, max: 1100, noNaN: true });
const at = (temperature: number, salt: number, pressure: number) =>
  oxygenSaturation(degC(temperature), psu(salt), hPa(pressure)).value as number;

describe("oxygen at saturation", () => {
  it("falls with temperature and salinity and rises with pressure", () => {
    fc.assert(
      fc.property(t, s, p, (temperature, salt, pressure) => {
        const here = at(temperature, salt, pressure);
        expect(at(temperature + 1, salt, pressure)).toBeLessThan(here);
        expect(at(temperature, salt + 1, pressure)).toBeLessThan(here);
        expect(at(temperature, salt, pressure + 10)).toBeGreaterThan(here);
      }),
    );
  });

  it("comes back from percent", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 300, noNaN: true }),
        t,
        s,
        p,
        (share, temperature, salt, pressure) => {
          const water = [degC(temperature), psu(salt), hPa(pressure)] as const;
          const mg = oxygenFromPercent(percent(share), ...water).value as number;
          expect(oxygenPercent(mgPerL(mg), ...water).value).toBeCloseTo(share, 9);
        },
      ),
    );
  });

  it("gives the partial pressure of air's share at 100 %", () => {
    // Source: 0.20946 of dry air (USGS memo 2011.03); vapour over fresh water at 25 °C is 31.7 hPa (steam tables, from memory).
    const full = oxygenPercent(mgPerL(at(25, 0, 1013.25)), degC(25), psu(0), hPa(1013.25));
    expect(full.partialPressure).toBeCloseTo(0.20946 * (1013.25 - 31.69), 1);
  });

  it("shows a probe with its salinity at 0 a fifth too high in sea water", () => {
    // Source: Benson & Krause 1984, 8.263 against 6.772 mg/L at 25 °C.
    expect(at(25, 0, 1013.25) / at(25, 35, 1013.25)).toBeCloseTo(1.22, 2);
  });

  it("marks its edges and refuses what is no barometer", () => {
    expect(oxygenSaturation(degC(41), psu(0), hPa(1013)).status).toBe("extrapolated");
    expect(oxygenSaturation(degC(-1), psu(35), hPa(1013)).status).toBe("extrapolated");
    expect(oxygenSaturation(degC(20), psu(0), hPa(500)).status).toBe("extrapolated");
    // 101.325 is a reading in kPa, 1.0 one in atm: a missing conversion, not a thin air.
    expect(oxygenSaturation(degC(20), psu(0), hPa(101.325)).status).toBe("invalid");
    expect(oxygenSaturation(degC(20), psu(0), hPa(1)).status).toBe("invalid");
    expect(oxygenSaturation(degC(95), psu(0), hPa(600)).note).toMatch(/boils/);
    expect(oxygenPercent(mgPerL(-1), degC(20), psu(0), hPa(1013)).value).toBeNull();
    expect(oxygenPercent(mgPerL(80_000), degC(20), psu(0), hPa(1013)).value).toBeNull();
  });
});

describe("station pressure", () => {
  it("is the sea-level pressure at sea level and falls with height", () => {
    fc.assert(
      fc.property(p, fc.double({ min: -400, max: 4000, noNaN: true }), (seaLevel, height) => {
        expect(stationPressure(hPa(seaLevel), metres(0)).value).toBe(seaLevel);
        const here = stationPressure(hPa(seaLevel), metres(height)).value as number;
        expect(stationPressure(hPa(seaLevel), metres(height + 1)).value).toBeLessThan(here);
      }),
    );
  });

  it("marks and refuses heights it cannot stand for", () => {
    expect(stationPressure(hPa(1013.25), metres(6000)).status).toBe("extrapolated");
    expect(stationPressure(hPa(1013.25), metres(12_000)).status).toBe("invalid");
    expect(stationPressure(hPa(0), metres(0)).status).toBe("invalid");
  });
});
