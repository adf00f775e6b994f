import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  freezingPoint,
  osmolality,
  salinityFromHydrometer,
  salinityFromRefractometer,
  seawaterDensity,
  specificGravity,
} from "#core/chemistry/index.ts";
import { degC, psu, pureNumber } from "#core/units/index.ts";

const t = fc.double({ min: 5, max: 35, noNaN: true });
const s = fc.double({ min: 0, max: 41, noNaN: true });

describe("density", () => {
  it("rises with salinity", () => {
    fc.assert(
      fc.property(s, t, (salt, temperature) => {
        const here = seawaterDensity(psu(salt), degC(temperature)).value as number;
        expect(seawaterDensity(psu(salt + 0.1), degC(temperature)).value).toBeGreaterThan(here);
      }),
    );
  });

  it("is greatest at 4 °C in fresh water", () => {
    // Source: pure water is densest at 3.98 °C (from memory, any handbook).
    const at = (temperature: number) => seawaterDensity(psu(0), degC(temperature)).value as number;
    expect(at(4)).toBeGreaterThan(at(2));
    expect(at(4)).toBeGreaterThan(at(6));
  });

  it.each([
    // Source: EOS-80, Millero & Poisson 1981.
    [25, 25, 1.02637],
    [20, 20, 1.0266],
    [15, 15, 1.0269],
    [15, 4, 1.026],
  ])("makes specific gravity of S 35 at %s over %s °C %s", (at, ref, expected) => {
    expect(specificGravity(psu(35), degC(at), degC(ref)).value).toBeCloseTo(expected, 4);
  });
});

describe("a glass hydrometer", () => {
  it("gives back the salinity whose specific gravity it floats at", () => {
    fc.assert(
      fc.property(s, t, fc.constantFrom(15, 20, 25), (salt, temperature, mark) => {
        const sg = specificGravity(psu(salt), degC(temperature), degC(mark)).value as number;
        const reading = pureNumber(sg / (1 - 25e-6 * (temperature - mark)));
        const back = salinityFromHydrometer({
          reading,
          t: degC(temperature),
          tCal: degC(mark),
          tRef: degC(mark),
        });
        expect(back.value).toBeCloseTo(salt, 6);
      }),
    );
  });

  it("needs the temperatures on its glass: 1.0264 is three different waters", () => {
    // Source: EOS-80 with glass expansion 25e-6 per °C.
    const read = (at: number, mark: number) =>
      salinityFromHydrometer({ reading: pureNumber(1.0264), t: degC(at), tCal: degC(mark), tRef: degC(mark) })
        .value;
    expect(read(25, 25)).toBeCloseTo(35.04, 1);
    expect(read(20, 25)).toBeCloseTo(33.34, 1);
    expect(read(25, 15)).toBeCloseTo(37.49, 1);
  });

  it("refuses brine, fresh water lighter than itself, and impossible glass", () => {
    const at = { t: degC(25), tCal: degC(25), tRef: degC(25) };
    expect(salinityFromHydrometer({ ...at, reading: pureNumber(1.09) }).status).toBe("invalid");
    expect(salinityFromHydrometer({ ...at, reading: pureNumber(0.99) }).status).toBe("invalid");
    expect(salinityFromHydrometer({ ...at, reading: pureNumber(1.025), glassExpansion: 1 }).status).toBe(
      "invalid",
    );
  });
});

describe("a refractometer without compensation", () => {
  it("reads true at the temperature of its scale and high in warm water", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 35, noNaN: true }),
        fc.double({ min: 5, max: 29, noNaN: true }),
        (r, cal) => {
          const same = salinityFromRefractometer({ reading: pureNumber(r), t: degC(cal), tCal: degC(cal) });
          expect(same.value).toBeCloseTo(r, 6);
          const warm = salinityFromRefractometer({
            reading: pureNumber(r),
            t: degC(cal + 1),
            tCal: degC(cal),
          });
          expect(warm.value).toBeGreaterThan(r);
        },
      ),
    );
  });

  it("shows a small negative result with a mark, and does not make it 0", () => {
    const cold = salinityFromRefractometer({ reading: pureNumber(0), t: degC(15), tCal: degC(20) });
    expect(cold.status).toBe("extrapolated");
    expect(cold.value).toBeLessThan(0);
  });
});

describe("freezing point and osmolality", () => {
  it("falls, and rises, with salinity", () => {
    fc.assert(
      fc.property(fc.double({ min: 1, max: 41, noNaN: true }), t, (salt, temperature) => {
        expect(freezingPoint(psu(salt + 0.5)).value).toBeLessThan(freezingPoint(psu(salt)).value as number);
        const here = osmolality(psu(salt), degC(temperature)).value as number;
        expect(osmolality(psu(salt + 0.5), degC(temperature)).value).toBeGreaterThan(here);
      }),
    );
  });

  it("leaves pure water at 0 °C and without osmotic pressure", () => {
    expect(freezingPoint(psu(0)).value).toBeCloseTo(0, 12);
    expect(osmolality(psu(0), degC(25))).toMatchObject({ value: 0, status: "extrapolated" });
  });
});
