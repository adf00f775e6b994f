import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type CarbonateSystem,
  carbonateFromAlkalinityCarbon,
  carbonateFromAlkalinityPco2,
  carbonateFromPhAlkalinity,
  carbonateFromPhCarbon,
} from "#core/chemistry/index.ts";
import { degC, meqPerL, mgPerL, phUnits, psu } from "#core/units/index.ts";

const ph = fc.double({ min: 6.5, max: 8.6, noNaN: true });
const alkalinity = fc.double({ min: 1, max: 5, noNaN: true });
const water = fc.oneof(
  fc.record({ s: fc.constant(0), t: fc.double({ min: 1, max: 35, noNaN: true }) }),
  fc.record({
    s: fc.double({ min: 1, max: 42, noNaN: true }),
    t: fc.double({ min: 2, max: 35, noNaN: true }),
  }),
);

function solved(result: {
  readonly value: CarbonateSystem | null;
  readonly note: string | null;
}): CarbonateSystem {
  if (result.value === null) throw new Error(result.note ?? "no value");
  return result.value;
}

const fromPh = (p: number, alk: number, s: number, t: number, more = {}) =>
  carbonateFromPhAlkalinity({
    ph: phUnits(p),
    phScale: "total",
    alkalinity: meqPerL(alk),
    s: psu(s),
    t: degC(t),
    ...more,
  });

describe("the carbonate system", () => {
  it("is the same water from any pair", () => {
    fc.assert(
      fc.property(ph, alkalinity, water, (p, alk, { s, t }) => {
        const first = solved(fromPh(p, alk, s, t));
        const base = { s: psu(s), t: degC(t) };
        const others = [
          carbonateFromAlkalinityCarbon({
            ...base,
            alkalinity: first.alkalinity,
            dissolvedInorganicCarbon: first.dissolvedInorganicCarbon,
          }),
          carbonateFromAlkalinityPco2({ ...base, alkalinity: first.alkalinity, pco2: first.pco2 }),
          carbonateFromPhCarbon({
            ...base,
            ph: first.phTotal,
            phScale: "total",
            dissolvedInorganicCarbon: first.dissolvedInorganicCarbon,
          }),
        ].map(solved);
        for (const other of others) {
          expect(other.phTotal).toBeCloseTo(p, 7);
          expect(other.alkalinity).toBeCloseTo(alk, 7);
          expect(other.pco2 / first.pco2).toBeCloseTo(1, 6);
          expect(other.carbonate / first.carbonate).toBeCloseTo(1, 6);
        }
      }),
    );
  });

  it("adds its species up to the inorganic carbon", () => {
    fc.assert(
      fc.property(ph, alkalinity, water, (p, alk, { s, t }) => {
        const one = solved(fromPh(p, alk, s, t));
        const sum = one.co2 + one.bicarbonate + one.carbonate;
        expect(sum / one.dissolvedInorganicCarbon).toBeCloseTo(1, 12);
      }),
    );
  });

  it("holds less CO2 and more carbonate at a higher pH", () => {
    fc.assert(
      fc.property(ph, alkalinity, water, (p, alk, { s, t }) => {
        const low = solved(fromPh(p, alk, s, t));
        const high = solved(fromPh(p + 0.05, alk, s, t));
        expect(high.pco2).toBeLessThan(low.pco2);
        expect(high.co2).toBeLessThan(low.co2);
      }),
    );
  });

  it("shows how little a probe's pH proves: 0.05 is 13 % of pCO2", () => {
    // Source: PyCO2SYS 1.8.3.4 at S 35, 25 °C, pH 8.1, TA 2300 umol/kg: -13.5 % in pCO2, +8.9 % in saturation.
    const [one, other] = [solved(fromPh(8.1, 2.3536, 35, 25)), solved(fromPh(8.15, 2.3536, 35, 25))];
    expect(other.pco2 / one.pco2 - 1).toBeCloseTo(-0.135, 3);
    expect((other.aragoniteSaturation as number) / (one.aragoniteSaturation as number) - 1).toBeCloseTo(
      0.089,
      2,
    );
  });

  it("scales the saturation with measured calcium", () => {
    const natural = solved(fromPh(8.2, 2.5, 35, 25));
    const twice = solved(fromPh(8.2, 2.5, 35, 25, { calcium: mgPerL(840) }));
    const once = solved(fromPh(8.2, 2.5, 35, 25, { calcium: mgPerL(420) }));
    expect((twice.aragoniteSaturation as number) / (once.aragoniteSaturation as number)).toBeCloseTo(2, 9);
    // Source: sea water of S 35 holds about 412 mg/kg, 421 mg/L, of calcium (Riley & Tongudai 1967).
    expect((natural.aragoniteSaturation as number) / (once.aragoniteSaturation as number)).toBeCloseTo(1, 2);
  });

  it("has no mineral saturation in fresh water, whose constants are those of pure water", () => {
    const fresh = solved(fromPh(7.5, 1, 0, 25, { calcium: mgPerL(40) }));
    expect(fresh.aragoniteSaturation).toBeNull();
    // Source: PyCO2SYS 1.8.3.4: 70.81 umol/kg at TA 1000 umol/kg, pH 7.5, 25 °C; CO2 is 44.009 g/mol.
    expect(fresh.carbonDioxide).toBeCloseTo((70.81 * 44.009) / 1000, 1);
  });

  it("lowers CO2 by about 5 % at the ionic strength of hard fresh water", () => {
    // Source: Davies equation at 0.002 mol/L.
    const plain = solved(fromPh(7.5, 1, 0, 25));
    const ionic = solved(fromPh(7.5, 1, 0, 25, { ionicStrength: 0.002 }));
    expect(plain.co2 / ionic.co2 - 1).toBeCloseTo(0.05, 2);
  });

  it("refuses what contradicts itself and marks what lies outside the constants", () => {
    expect(fromPh(9.8, 0.1, 35, 25)).toMatchObject({ value: null, status: "invalid" });
    expect(fromPh(8, 2.3, 10, 25, { water: "marine" }).status).toBe("extrapolated");
    expect(fromPh(8, 2.3, 35, 36).status).toBe("extrapolated");
    expect(fromPh(8, 2.3, 35, 25, { ionicStrength: -1 }).status).toBe("invalid");
    expect(fromPh(8, 1e9, 35, 25).status).toBe("invalid");
    const base = { s: psu(35), t: degC(25), alkalinity: meqPerL(2.3) };
    expect(carbonateFromAlkalinityPco2({ ...base, pco2: 0 as never }).status).toBe("invalid");
  });

  it("takes a probe's pH as NBS unless told otherwise", () => {
    const asNbs = solved(
      carbonateFromPhAlkalinity({ ph: phUnits(8.2), alkalinity: meqPerL(2.3), s: psu(35), t: degC(25) }),
    );
    // Source: Takahashi et al. 1982: NBS stands 0.137 above total at S 35 and 25 °C.
    expect(asNbs.phTotal).toBeCloseTo(8.2 - 0.137, 3);
  });
});
