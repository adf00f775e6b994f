import { describe, expect, expectTypeOf, it } from "vitest";
import { ammoniaFraction, practicalSalinity, seawaterDensity } from "#core/chemistry/index.ts";
import {
  convert,
  degC,
  type In,
  mgPerLAsN,
  mgPerLAsNH3,
  msPerCm,
  phUnits,
  psu,
  quantity,
  type UnitOf,
  usPerCm,
  type ValueOf,
} from "#core/units/index.ts";

/** Each line below compiles only because its mistake is caught: the type checker fails this file when one is not. */
function mistakes(): void {
  const t = degC(25);
  // @ts-expect-error a bare number says nothing about its unit
  practicalSalinity(50, t);
  // @ts-expect-error temperature and conductivity are swapped
  practicalSalinity(t, msPerCm(50));
  // @ts-expect-error uS/cm is a thousandth of mS/cm
  practicalSalinity(usPerCm(50_000), t);
  // @ts-expect-error salinity and temperature are swapped
  seawaterDensity(t, psu(35));
  // @ts-expect-error mass of NH3 is not mass of its nitrogen
  const nitrogen: In<"mg{N}/L"> = mgPerLAsNH3(0.1);
  // @ts-expect-error the sum of two tagged numbers is a bare number, to be tagged again on purpose
  const sum: In<"Cel"> = t + degC(1);
  // @ts-expect-error there is no such unit code
  convert(1, "mg/l", "ug/L");
  // @ts-expect-error there is no such basis
  convert(1, "mg{NX}/L", "mg{N}/L");
  // @ts-expect-error there is no such pH scale
  ammoniaFraction({ ph: phUnits(8), phScale: "seawater", t, s: psu(35) });
  // @ts-expect-error a quantity asked for by any text may not exist
  quantity("temperature").label;
  // @ts-expect-error pH is not measured in mg/L
  const ph: ValueOf<"ph"> = mgPerLAsN(8);
  expect([nitrogen, sum, ph]).toHaveLength(3);
}

describe("units as types", () => {
  it("tags a number without changing it", () => {
    expect(degC(25)).toBe(25);
    expect(mgPerLAsN(0.1)).toBe(0.1);
    expect(mistakes).toBeTypeOf("function");
  });

  it("follows the registry from quantity to unit", () => {
    expectTypeOf<UnitOf<"temperature">>().toEqualTypeOf<"Cel">();
    expectTypeOf<UnitOf<"total_ammonia">>().toEqualTypeOf<"mg{N}/L">();
    expectTypeOf<ValueOf<"salinity">>().toEqualTypeOf<In<"1">>();
    expectTypeOf(practicalSalinity(msPerCm(50), degC(25)).value).toEqualTypeOf<In<"1"> | null>();
  });
});
