import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  canonicalUnit,
  convert,
  convertible,
  isUnit,
  type NumberQuantity,
  QUANTITIES,
  type Unit,
} from "#core/units/index.ts";

const numbers = (Object.values(QUANTITIES) as readonly { kind: string }[]).filter(
  (one): one is NumberQuantity => one.kind === "number",
);

describe("a unit as people type it", () => {
  it.each([
    // Source: IUPAC weights and definitions of the units.
    ["temperature", "°F", 77, 25],
    ["temperature", "K", 298.15, 25],
    ["barometric_pressure", "mmHg", 760, 1013.25],
    ["barometric_pressure", "inHg", 29.92125984, 1013.25],
    ["gas_excess", "kPa", 10.1325, 76],
    ["filter_pressure_difference", "bar", 0.86, 86],
    ["filter_pressure_difference", "psi", 10, 68.9475729],
    ["specific_conductance", "mS/cm", 0.042, 42],
    ["nitrate", "mg/L as NO3", 13.3, 3.0045335],
    ["nitrate", "mg NO3/L", 13.3, 3.0045335],
    ["nitrate", "mg/L (as N)", 3, 3],
    ["nitrate", "mg/L-N", 3, 3],
    ["nitrate", "µmol/L", 100, 1.4007],
    ["nitrite", "mg/l NO₂", 1, 0.3044669],
    ["total_ammonia", "mg/L as NH4", 1, 0.7764843],
    ["total_ammonia", "ug/L as N", 250, 0.25],
    ["phosphate", "mg/L PO4", 0.1, 0.0326143],
    ["phosphate", "umol/L", 1, 0.0309738],
    ["alkalinity", "dKH", 8, 2.8532197],
    ["alkalinity", "mg/L CaCO3", 125, 2.4978518],
    ["alkalinity", "mmol/L", 2.3, 2.3],
    ["hardness", "mmol/L", 1, 100.086],
    ["hardness", "dGH", 1, 17.8479591],
    ["calcium", "mmol/L", 10.28, 412.00184],
    ["iodide", "umol/L", 0.15, 19.0356705],
    ["dissolved_oxygen", "mL/L", 1, 1.42905],
    ["dissolved_oxygen", "umol/L", 250, 7.9995],
    ["total_residual_oxidant", "mg/L as O3", 0.04, 0.059087],
    ["salinity", "ppt", 33.5, 33.5],
    ["flow", "gpm", 100, 22.7124707],
    ["flow", "L/min", 6, 0.36],
    ["level", "m", 1.42, 1420],
    ["par", "µmol m⁻² s⁻¹", 250, 250],
    ["turbidity", "{NTU}", 0.3, 0.3],
    ["ph", "", 8.1, 8.1],
  ] as const)("%s in %s: %s is %s", (id, typed, value, expected) => {
    const unit = canonicalUnit(id, typed);
    if (unit === undefined) throw new Error(`${typed} was refused`);
    expect(value * unit.factor + unit.offset).toBeCloseTo(expected, 6);
    expect(unit.unit).toBe(QUANTITIES[id].unit);
  });

  it.each([
    ["total_ammonia", "mg/L as NO3", "another ion"],
    ["nitrate", "mg/L as NH4", "another ion"],
    ["alkalinity", "mg/L", "no agreed basis"],
    ["alkalinity", "dGH", "hardness"],
    ["hardness", "dKH", "alkalinity"],
    ["calcium", "ppm", "per litre or per kilogram"],
    ["calcium", "mg/kg", "needs a density"],
    ["nitrate", "umol/kg", "needs a density"],
    ["salinity", "%", "not a salinity unit"],
    ["salinity", "g/kg", "absolute salinity is another quantity"],
    ["turbidity", "FNU", "another method"],
    ["coliform", "CFU/100mL", "another method"],
    ["temperature", "mg/L", "another dimension"],
    ["oxygen_saturation", "mg/L", "needs temperature, salinity and pressure"],
    ["pump", "1", "a state"],
    ["no_such_quantity", "mg/L", "unknown quantity"],
    ["temperature", "constructor", "unknown unit"],
    ["temperature", "", "no unit at all"],
  ])("refuses %s in %s: %s", (id, typed) => {
    expect(canonicalUnit(id, typed)).toBeUndefined();
  });

  it("says when the basis was assumed, because nitrogen for ion is the commonest slip", () => {
    expect(canonicalUnit("nitrate", "mg/L")?.basisAssumed).toBe(true);
    expect(canonicalUnit("nitrate", "mg/L as N")?.basisAssumed).toBe(false);
    expect(canonicalUnit("nitrate", "umol/L")?.basisAssumed).toBe(false);
    expect(canonicalUnit("calcium", "mg/L")?.basisAssumed).toBe(false);
  });

  it("agrees with convert wherever convert can answer", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...numbers),
        fc.constantFrom(...numbers),
        fc.double({ min: -1000, max: 1000, noNaN: true }),
        (one, other, value) => {
          const unit = canonicalUnit(one.id, other.unit);
          if (unit === undefined || !isUnit(unit.from) || !convertible(unit.from, unit.unit)) return;
          const direct = convert(value, unit.from as Unit, unit.unit);
          expect(value * unit.factor + unit.offset).toBeCloseTo(direct, 6);
        },
      ),
    );
  });

  it("never answers with a number that is not finite, whatever is typed", () => {
    fc.assert(
      fc.property(fc.constantFrom(...numbers), fc.string(), (one, typed) => {
        const unit = canonicalUnit(one.id, typed);
        if (unit !== undefined)
          expect(Number.isFinite(unit.factor) && Number.isFinite(unit.offset)).toBe(true);
      }),
    );
  });
});
