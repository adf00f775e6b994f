import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  convert,
  displayUnits,
  fromDisplay,
  type NumberQuantityId,
  QUANTITIES,
  QUANTITY_IDS,
  toDisplay,
  unitLabel,
} from "#core/units/index.ts";

const NUMBERS = QUANTITY_IDS.filter((id): id is NumberQuantityId => QUANTITIES[id].kind === "number");

describe("units people may choose", () => {
  it.each(NUMBERS)("%s begins with the registry's own and every other one leads there and back", (id) => {
    const units = displayUnits(id);
    expect(units[0]).toEqual({
      unit: QUANTITIES[id].unit,
      label: QUANTITIES[id].unitLabel,
      decimals: QUANTITIES[id].decimals,
    });
    expect(new Set(units.map(({ unit }) => unit)).size).toBe(units.length);
    expect(new Set(units.map(({ label }) => label)).size).toBe(units.length);
    const [low, high] = QUANTITIES[id].plausible;
    for (const { unit, decimals } of units) {
      expect(decimals).toBeGreaterThanOrEqual(0);
      fc.assert(
        fc.property(fc.double({ min: low, max: high, noNaN: true }), (value) => {
          const there = toDisplay(value, id, unit);
          // To rounding, of numbers as large as the quantity's own span.
          expect(Math.abs(fromDisplay(there, id, unit) - value)).toBeLessThanOrEqual(
            1e-12 * Math.max(1, Math.abs(value), Math.abs(low)) * 100,
          );
        }),
        { numRuns: 20 },
      );
    }
  });

  // Factors by IUPAC abridged weights and definitions of the units.
  it.each([
    ["temperature", "[degF]", 25, 77],
    ["nitrate", "mg{NO3}/L", 1, 4.426644],
    ["total_ammonia", "mg{NH4}/L", 1, 1.287856],
    ["alkalinity", "[dKH]", 1, 2.80385],
    ["alkalinity", "mg{CaCO3}/L", 1, 50.043],
    ["barometric_pressure", "mm[Hg]", 1013.25, 760],
    ["dissolved_oxygen", "mL{O2}/L", 1.42905, 1],
    ["chlorine", "mg{O3}/L", 1, 0.67697],
    ["phosphate", "mg{PO4}/L", 1, 3.066136],
  ] as const)("%s in %s: %d is %d", (id, unit, value, expected) => {
    expect(toDisplay(value, id, unit)).toBeCloseTo(expected, 4);
  });

  it("agrees with convert where a unit needs no substance", () => {
    expect(toDisplay(1000, "barometric_pressure", "kPa")).toBeCloseTo(convert(1000, "hPa", "kPa"), 12);
    expect(toDisplay(60, "flow", "L/min")).toBeCloseTo(convert(60, "m3/h", "L/min"), 9);
  });

  it("shows as many decimals as tell the same difference apart", () => {
    const decimals = (id: NumberQuantityId, unit: string) =>
      displayUnits(id).find((each) => each.unit === unit)?.decimals;
    expect(decimals("conductivity", "uS/cm")).toBe(0);
    expect(decimals("conductivity", "S/m")).toBe(3);
    expect(decimals("temperature", "[degF]")).toBe(1);
    expect(decimals("barometric_pressure", "kPa")).toBe(2);
  });

  it("refuses a unit that does not convert, and says what a unit counts", () => {
    expect(() => toDisplay(1, "nitrate", "mg{NO2}/L")).toThrow(/nitrate cannot be shown in "mg{NO2}\/L"/);
    expect(() => fromDisplay(1, "temperature", "mS/cm")).toThrow(RangeError);
    expect(unitLabel("mg{NO3}/L")).toBe("mg/L as NO₃");
    expect(unitLabel("umol{N}/L")).toBe("µmol/L");
    expect(unitLabel("mL{O2}/L")).toBe("mL/L");
    expect(unitLabel("Cel")).toBe("°C");
    expect(unitLabel("bar")).toBe("bar");
  });
});
