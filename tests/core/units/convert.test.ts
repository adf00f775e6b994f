import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { convert, convertible, isUnit, type Unit, UnitError } from "#core/units/index.ts";
import { PLAIN_UNITS } from "#core/units/unit.ts";

const codes: readonly Unit[] = [
  ...(Object.keys(PLAIN_UNITS) as Unit[]),
  "mg{N}/L",
  "mg{NO3}/L",
  "mg{NO2}/L",
  "mg{NH3}/L",
  "mg{NH4}/L",
  "umol{N}/L",
  "umol{N}/kg",
  "mg{PO4}/L",
  "mg{P2O5}/L",
  "ug{P}/L",
  "mg{CaCO3}/L",
  "mg{Cl2}/L",
  "mg{O3}/L",
  "umol{O2}/kg",
];

describe("convert", () => {
  it.each([
    // Source: definitions of the units (SI brochure, international inch and gallon).
    [32, "[degF]", "Cel", 0],
    [212, "[degF]", "Cel", 100],
    [273.15, "K", "Cel", 0],
    [53_071, "uS/cm", "mS/cm", 53.071],
    [1, "atm", "hPa", 1013.25],
    [1, "bar", "kPa", 100],
    [1, "L/s", "m3/h", 3.6],
    [1, "m", "mm", 1000],
    [1, "[ft_i]", "mm", 304.8],
    [1, "[gal_us]", "L", 3.785411784],
    [1, "kg/m3", "mg/L", 1000],
    // Source: 1 meq/L is half a millimole of CaCO3, 100.086 g/mol by IUPAC weights.
    [1, "meq/L", "mg{CaCO3}/L", 50.043],
    // Source: one German degree is 10 mg/L of CaO, 56.077 g/mol by IUPAC weights.
    [1, "meq/L", "[dKH]", 2.80385],
    // Source: 1 mL of oxygen at 0 °C and 1 atm weighs 1.42905 mg (Benson & Krause 1984, from memory).
    [1, "mL{O2}/L", "mg{O2}/L", 1.42905],
  ] as const)("%s %s in %s is %s", (value, from, to, expected) => {
    expect(convert(value, from, to)).toBeCloseTo(expected, 9);
  });

  it("meets kilogram and litre through the density in kg/m3", () => {
    // Source: umol/kg = umol/L over kg/L (definition).
    expect(convert(2300, "ueq/kg", "meq/L", { density: 1023.3 })).toBeCloseTo(2.35359, 9);
    expect(convert(1, "mg/L", "mg/kg", { density: 1025 })).toBeCloseTo(1 / 1.025, 12);
  });

  it.each([
    ["mg{NO3}/L", "mg{NH3}/L", /nitrate/],
    ["mg{N}/L", "mg{P}/L", /nitrogen/],
    ["mg/L", "mg{N}/L", /mass per volume/],
    ["Cel", "mm", /temperature/],
    ["{MPN}/100mL", "{CFU}/100mL", /most probable number/],
    ["[dKH]", "[dGH]", /alkalinity/],
    ["umol{N}/kg", "mg{N}/L", /density/],
    ["%", "1", /percent/],
  ] as const)("refuses %s to %s and says why", (from, to, why) => {
    expect(() => convert(1, from, to)).toThrow(UnitError);
    expect(() => convert(1, from, to)).toThrow(why);
    expect(convertible(from, to)).toBe(false);
  });

  it("refuses a density that is no water's, such as one in kg/L", () => {
    for (const density of [1.025, 0, -1000, Number.NaN, 5000]) {
      expect(() => convert(1, "mg/L", "mg/kg", { density })).toThrow(/kg\/m3/);
    }
  });

  it("names a unit it does not know", () => {
    expect(() => convert(1, "furlong" as Unit, "mm")).toThrow(/"furlong"/);
    expect(convertible("mm", "toString")).toBe(false);
    expect(isUnit("constructor")).toBe(false);
    expect(isUnit("mg{Xx}/L")).toBe(false);
  });

  it("comes back to where it started, in every pair that converts", () => {
    const code = fc.constantFrom(...codes);
    const value = fc.double({ min: -1e6, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(code, code, value, (from, to, x) => {
        const options = { density: 1025 };
        if (!convertible(from, to, options)) {
          expect(convertible(to, from, options)).toBe(false);
          expect(() => convert(x, from, to, options)).toThrow(UnitError);
          return;
        }
        const back = convert(convert(x, from, to, options), to, from, options);
        expect(Math.abs(back - x)).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(x)) + 1e-6);
      }),
      { numRuns: 2000 },
    );
  });

  it("rises with its input", () => {
    const code = fc.constantFrom(...codes);
    fc.assert(
      fc.property(code, code, fc.integer({ min: -1000, max: 1000 }), (from, to, x) => {
        if (!convertible(from, to)) return;
        expect(convert(x + 1, from, to)).toBeGreaterThan(convert(x, from, to));
      }),
      { numRuns: 2000 },
    );
  });
});
