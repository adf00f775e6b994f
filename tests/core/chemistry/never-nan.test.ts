import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  ammoniaFraction,
  type Computed,
  carbonateFromAlkalinityCarbon,
  carbonateFromAlkalinityPco2,
  carbonateFromPhAlkalinity,
  carbonateFromPhCarbon,
  conductivityFromSalinity,
  conductivityFromSpecificConductance,
  convertPh,
  dayLength,
  ehFromOrp,
  freezingPoint,
  gasExcessAtDepth,
  gasSolubility,
  osmolality,
  oxygenFromPercent,
  oxygenPercent,
  oxygenSaturation,
  practicalSalinity,
  REFERENCE_ELECTRODES,
  salinityFromHydrometer,
  salinityFromRefractometer,
  seawaterDensity,
  specificConductance25,
  specificGravity,
  stationPressure,
  totalGasPressure,
  unionisedAmmonia,
} from "#core/chemistry/index.ts";
import * as units from "#core/units/index.ts";

/** Any number a broken gateway can send, mixed with numbers that water can have. */
const any = fc.oneof(
  fc.double(),
  fc.double({ min: -50, max: 150, noNaN: true }),
  fc.constantFrom(0, -0, Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 1e308, 5e-324),
);
const likely = fc.double({ min: 0, max: 45, noNaN: true });
const number = fc.oneof({ arbitrary: any, weight: 1 }, { arbitrary: likely, weight: 7 });
const scale = fc.constantFrom("nbs", "total", "sws", "free" as const);
const water = fc.constantFrom("fresh", "brackish", "marine" as const);

type Draw = readonly [a: number, b: number, c: number, d: number, e: number, f: number];
type Choice = {
  readonly scale: "nbs" | "total" | "sws" | "free";
  readonly water: "fresh" | "brackish" | "marine";
};

const { degC, psu, phUnits, hPa, mmHg, mgPerL, mgPerLAsN, meqPerL, metres, pureNumber } = units;

/** Every public equation, fed with the draw; `ph` and pressures are spread over their own scale. */
const EQUATIONS: Readonly<Record<string, (n: Draw, choice: Choice) => Computed<unknown>>> = {
  practicalSalinity: ([a, b, c]) => practicalSalinity(units.msPerCm(a), degC(b), units.dbar(c)),
  conductivityFromSalinity: ([a, b, c]) => conductivityFromSalinity(psu(a), degC(b), units.dbar(c)),
  specificConductance25: ([a, b, c]) => specificConductance25(units.msPerCm(a), degC(b), c / 1000),
  conductivityFromSpecificConductance: ([a, b, c]) =>
    conductivityFromSpecificConductance(units.usPerCm(a), degC(b), c / 1000),
  seawaterDensity: ([a, b]) => seawaterDensity(psu(a), degC(b)),
  specificGravity: ([a, b, c]) => specificGravity(psu(a), degC(b), degC(c)),
  salinityFromHydrometer: ([a, b, c, d, e]) =>
    salinityFromHydrometer({
      reading: pureNumber(1 + a / 1000),
      t: degC(b),
      tCal: degC(c),
      tRef: degC(d),
      glassExpansion: e * 1e-6,
    }),
  salinityFromRefractometer: ([a, b, c]) =>
    salinityFromRefractometer({ reading: pureNumber(a), t: degC(b), tCal: degC(c) }),
  freezingPoint: ([a, b]) => freezingPoint(psu(a), units.dbar(b)),
  ammoniaFraction: ([a, b, c], choice) =>
    ammoniaFraction({
      ph: phUnits(a / 3),
      t: degC(b),
      s: psu(c),
      phScale: choice.scale,
      water: choice.water,
    }),
  unionisedAmmonia: ([a, b, c, d, e, f], choice) =>
    unionisedAmmonia({
      tan: mgPerLAsN(d),
      ph: phUnits(a / 3),
      t: degC(b),
      s: psu(c),
      phScale: choice.scale,
      water: choice.water,
      u: { ph: e / 100, t: f / 100, s: e / 100, tanRelative: f / 100 },
    }),
  oxygenSaturation: ([a, b, c]) => oxygenSaturation(degC(a), psu(b), hPa(c * 30)),
  oxygenPercent: ([a, b, c, d]) => oxygenPercent(mgPerL(d), degC(a), psu(b), hPa(c * 30)),
  oxygenFromPercent: ([a, b, c, d]) => oxygenFromPercent(units.percent(d), degC(a), psu(b), hPa(c * 30)),
  stationPressure: ([a, b]) => stationPressure(hPa(a * 30), metres(b * 100)),
  totalGasPressure: ([a, b, c, d, e]) =>
    totalGasPressure({ bp: hPa(a * 30), dp: mmHg(b), t: degC(c), s: psu(d), do: mgPerL(e / 5) }),
  gasExcessAtDepth: ([a, b, c, d]) => gasExcessAtDepth(mmHg(a), metres(b), degC(c), psu(d)),
  nitrogen: ([a, b]) => gasSolubility("N2", degC(a), psu(b)),
  argon: ([a, b]) => gasSolubility("Ar", degC(a), psu(b)),
  oxygen: ([a, b]) => gasSolubility("O2", degC(a), psu(b)),
  convertPh: ([a, b, c], choice) => convertPh(phUnits(a / 3), choice.scale, "total", psu(b), degC(c)),
  convertPhBack: ([a, b, c], choice) => convertPh(phUnits(a / 3), "nbs", choice.scale, psu(b), degC(c)),
  carbonateFromPhAlkalinity: ([a, b, c, d, e], choice) =>
    carbonateFromPhAlkalinity({
      ph: phUnits(a / 3),
      alkalinity: meqPerL(b / 10),
      t: degC(c),
      s: psu(d),
      calcium: mgPerL(e * 10),
      phScale: choice.scale,
      water: choice.water,
    }),
  carbonateFromAlkalinityCarbon: ([a, b, c, d], choice) =>
    carbonateFromAlkalinityCarbon({
      alkalinity: meqPerL(a / 10),
      dissolvedInorganicCarbon: units.umolCarbonPerKg(b * 100),
      t: degC(c),
      s: psu(d),
      water: choice.water,
    }),
  carbonateFromAlkalinityPco2: ([a, b, c, d], choice) =>
    carbonateFromAlkalinityPco2({
      alkalinity: meqPerL(a / 10),
      pco2: units.microatm(b * 100),
      t: degC(c),
      s: psu(d),
      water: choice.water,
    }),
  carbonateFromPhCarbon: ([a, b, c, d], choice) =>
    carbonateFromPhCarbon({
      ph: phUnits(a / 3),
      dissolvedInorganicCarbon: units.umolCarbonPerKg(b * 100),
      t: degC(c),
      s: psu(d),
      phScale: choice.scale,
      water: choice.water,
    }),
  ehFromOrp: ([a, b, c]) =>
    ehFromOrp(
      units.millivolts(a * 10),
      REFERENCE_ELECTRODES[Math.abs(Math.trunc(c)) % 3] ?? "ag-agcl-3m",
      degC(b),
    ),
  osmolality: ([a, b]) => osmolality(psu(a), degC(b)),
  dayLength: ([a, b, c, d]) =>
    dayLength({
      latitude: a * 2 - 90,
      longitude: b * 8 - 180,
      date: "2026-03-20",
      horizon: Math.abs(c + d) % 20,
    }),
};

/** Every number anywhere in a result. */
function numbersIn(value: unknown): readonly number[] {
  if (typeof value === "number") return [value];
  if (typeof value !== "object" || value === null) return [];
  return Object.values(value).flatMap(numbersIn);
}

describe("every equation, for any numbers at all", () => {
  it.each(Object.keys(EQUATIONS))("%s gives finite numbers, or none and the reason", (name) => {
    const equation = EQUATIONS[name];
    if (equation === undefined) throw new Error(`no equation ${name}`);
    let computed = 0;
    fc.assert(
      fc.property(
        fc.tuple(number, number, number, number, number, number),
        fc.record({ scale, water }),
        (n, choice) => {
          const result = equation(n, choice);
          expect(result.formula.length).toBeGreaterThan(5);
          if (result.status === "invalid") {
            expect(result.value).toBeNull();
            expect(result.note).toMatch(/\w{3,}/);
            expect(numbersIn(result)).toEqual([]);
            return;
          }
          computed += 1;
          expect(result.value).not.toBeNull();
          if (result.status === "extrapolated") expect(result.note).toMatch(/\w{3,}/);
          for (const one of numbersIn(result)) expect(one).toSatisfy(Number.isFinite);
        },
      ),
      { numRuns: 1000 },
    );
    expect(computed, "runs that computed something").toBeGreaterThan(20);
  });

  it("has no equation left out of this list", async () => {
    const face = await import("#core/chemistry/index.ts");
    const functions = Object.entries(face).filter(([, value]) => typeof value === "function");
    const covered = Object.keys(EQUATIONS);
    // Uncertainties give a bare number or null; uncertainty.test.ts feeds them.
    const others = [
      "gasSolubility",
      "waterFromSalinity",
      "ammoniaSensitivity",
      "carbonateUncertainty",
      "oxygenPercentUncertainty",
      "salinityUncertainty",
    ];
    expect(
      functions
        .map(([name]) => name)
        .filter((name) => !covered.includes(name))
        .sort(),
    ).toEqual(others.sort());
  });
});
