import { describe, expect, it } from "vitest";
import {
  ammoniaFraction,
  type Computed,
  carbonateFromPhAlkalinity,
  conductivityFromSalinity,
  convertPh,
  freezingPoint,
  gasSolubility,
  osmolality,
  oxygenSaturation,
  practicalSalinity,
  salinityFromRefractometer,
  seawaterDensity,
  specificConductance25,
  stationPressure,
  totalGasPressure,
  type Water,
} from "#core/chemistry/index.ts";
import {
  dbar,
  degC,
  hPa,
  meqPerL,
  metres,
  mgPerL,
  mmHg,
  msPerCm,
  phUnits,
  psu,
  pureNumber,
} from "#core/units/index.ts";

const ammonia = (ph: number, t: number, s: number, water: Water) =>
  ammoniaFraction({
    ph: phUnits(ph),
    phScale: water === "fresh" ? "nbs" : "total",
    t: degC(t),
    s: psu(s),
    water,
  });
const carbonate = (t: number, s: number, water: Water) =>
  carbonateFromPhAlkalinity({
    ph: phUnits(7.8),
    phScale: "total",
    alkalinity: meqPerL(2.3),
    t: degC(t),
    s: psu(s),
    water,
  });
const gas = (bp: number, dp: number, t: number, s: number) =>
  totalGasPressure({ bp: hPa(bp), dp: mmHg(dp), t: degC(t), s: psu(s), do: mgPerL(3) });
const refractometer = (reading: number, t: number, tCal: number) =>
  salinityFromRefractometer({ reading: pureNumber(reading), t: degC(t), tCal: degC(tCal) });

/** Conductivity a little beside that of S 42 at 15 °C. */
const saltiest = (step: number) => msPerCm((conductivityFromSalinity(psu(42), degC(15)).value ?? 0) + step);

/** Computed inside each test, not while the table is written: so that a change to an equation is seen by the test of its edge. */
type Edge = readonly [name: string, inside: () => Computed<unknown>, outside: () => Computed<unknown>];

/**
 * The last input inside each published range and the first outside. Sources: the authors named at each equation;
 * ranges of gas pressure and station pressure are common practice, no source.
 */
const EDGES: readonly Edge[] = [
  [
    "PSS-78 coldest",
    () => practicalSalinity(msPerCm(20), degC(-2)),
    () => practicalSalinity(msPerCm(20), degC(-2.01)),
  ],
  [
    "PSS-78 warmest",
    () => practicalSalinity(msPerCm(20), degC(35)),
    () => practicalSalinity(msPerCm(20), degC(35.01)),
  ],
  [
    "PSS-78 deepest",
    () => practicalSalinity(msPerCm(35), degC(5), dbar(10_000)),
    () => practicalSalinity(msPerCm(35), degC(5), dbar(10_001)),
  ],
  [
    "PSS-78 saltiest",
    () => practicalSalinity(saltiest(-0.01), degC(15)),
    () => practicalSalinity(saltiest(0.01), degC(15)),
  ],
  [
    "compensation",
    () => specificConductance25(msPerCm(1), degC(40)),
    () => specificConductance25(msPerCm(1), degC(40.01)),
  ],
  ["EOS-80 saltiest", () => seawaterDensity(psu(42), degC(20)), () => seawaterDensity(psu(42.01), degC(20))],
  ["EOS-80 warmest", () => seawaterDensity(psu(35), degC(40)), () => seawaterDensity(psu(35), degC(40.01))],
  ["EOS-80 coldest", () => seawaterDensity(psu(35), degC(-2)), () => seawaterDensity(psu(35), degC(-2.01))],
  ["Quan & Fry saltiest", () => refractometer(35, 20, 20), () => refractometer(35.01, 20, 20)],
  ["Quan & Fry warmest", () => refractometer(10, 30, 20), () => refractometer(10, 30.01, 20)],
  ["Quan & Fry scale", () => refractometer(10, 20, 30), () => refractometer(10, 20, 30.01)],
  ["freezing, () => freshest", () => freezingPoint(psu(4)), () => freezingPoint(psu(3.99))],
  ["freezing, () => saltiest", () => freezingPoint(psu(40)), () => freezingPoint(psu(40.01))],
  [
    "freezing, () => deepest",
    () => freezingPoint(psu(35), dbar(500)),
    () => freezingPoint(psu(35), dbar(501)),
  ],
  ["Emerson lowest pH", () => ammonia(6, 25, 0, "fresh"), () => ammonia(5.99, 25, 0, "fresh")],
  ["Emerson highest pH", () => ammonia(10, 25, 0, "fresh"), () => ammonia(10.01, 25, 0, "fresh")],
  ["Emerson warmest", () => ammonia(8, 50, 0, "fresh"), () => ammonia(8, 50.01, 0, "fresh")],
  ["Emerson saltiest", () => ammonia(8, 25, 0.99, "fresh"), () => ammonia(8, 25, 1, "fresh")],
  ["Clegg & Whitfield saltiest", () => ammonia(8, 25, 40, "marine"), () => ammonia(8, 25, 40.01, "marine")],
  ["Clegg & Whitfield coldest", () => ammonia(8, -2, 35, "marine"), () => ammonia(8, -2.01, 35, "marine")],
  ["Clegg & Whitfield warmest", () => ammonia(8, 40, 35, "marine"), () => ammonia(8, 40.01, 35, "marine")],
  [
    "Benson & Krause warmest",
    () => oxygenSaturation(degC(40), psu(0), hPa(1013.25)),
    () => oxygenSaturation(degC(40.01), psu(0), hPa(1013.25)),
  ],
  [
    "Benson & Krause lowest pressure",
    () => oxygenSaturation(degC(20), psu(0), hPa(506.7)),
    () => oxygenSaturation(degC(20), psu(0), hPa(506.5)),
  ],
  [
    "Benson & Krause highest pressure",
    () => oxygenSaturation(degC(20), psu(0), hPa(1114.5)),
    () => oxygenSaturation(degC(20), psu(0), hPa(1114.7)),
  ],
  ["NBS step saltiest", () => convertNbs(40, 25), () => convertNbs(40.01, 25)],
  ["NBS step warmest", () => convertNbs(35, 40), () => convertNbs(35, 40.01)],
  ["Lueker freshest", () => carbonate(25, 19, "marine"), () => carbonate(25, 18.99, "marine")],
  ["Lueker saltiest", () => carbonate(25, 43, "marine"), () => carbonate(25, 43.01, "marine")],
  ["Lueker coldest", () => carbonate(2, 35, "marine"), () => carbonate(1.99, 35, "marine")],
  ["Lueker warmest", () => carbonate(35, 35, "marine"), () => carbonate(35.01, 35, "marine")],
  ["Waters freshest", () => carbonate(25, 1, "brackish"), () => carbonate(25, 0.99, "brackish")],
  ["Waters warmest", () => carbonate(50, 10, "brackish"), () => carbonate(50.01, 10, "brackish")],
  ["Millero coldest", () => carbonate(0, 0, "fresh"), () => carbonate(-0.01, 0, "fresh")],
  ["gas pressure, () => least barometer", () => gas(500, 0, 20, 0), () => gas(499, 0, 20, 0)],
  ["gas pressure, () => most barometer", () => gas(1100, 0, 20, 0), () => gas(1101, 0, 20, 0)],
  ["gas pressure, () => most excess", () => gas(1013, 400, 20, 0), () => gas(1013, 401, 20, 0)],
  ["gas pressure, () => least excess", () => gas(1013, -100, 20, 0), () => gas(1013, -101, 20, 0)],
  [
    "oxygen solubility warmest",
    () => gasSolubility("O2", degC(40), psu(35)),
    () => gasSolubility("O2", degC(40.01), psu(35)),
  ],
  [
    "nitrogen warmest",
    () => gasSolubility("N2", degC(30), psu(35)),
    () => gasSolubility("N2", degC(30.01), psu(35)),
  ],
  ["osmolality freshest", () => osmolality(psu(0.2), degC(20)), () => osmolality(psu(0.19), degC(20))],
  ["osmolality warmest", () => osmolality(psu(35), degC(35)), () => osmolality(psu(35), degC(35.01))],
  [
    "highest place",
    () => stationPressure(hPa(1013), metres(5000)),
    () => stationPressure(hPa(1013), metres(5001)),
  ],
  [
    "lowest place",
    () => stationPressure(hPa(1013), metres(-500)),
    () => stationPressure(hPa(1013), metres(-501)),
  ],
  ["deepest low", () => stationPressure(hPa(850), metres(0)), () => stationPressure(hPa(849), metres(0))],
  ["highest high", () => stationPressure(hPa(1090), metres(0)), () => stationPressure(hPa(1091), metres(0))],
];

function convertNbs(s: number, t: number) {
  return convertPh(phUnits(8), "nbs", "total", psu(s), degC(t));
}

describe("the edge of each range", () => {
  it.each(EDGES)("%s: still ok, then marked and still computed", (_, insideEdge, outsideEdge) => {
    const [inside, outside] = [insideEdge(), outsideEdge()];
    expect(inside.status).toBe("ok");
    expect(outside.status).toBe("extrapolated");
    expect(outside.value).not.toBeNull();
    expect(outside.note).not.toBeNull();
  });

  it.each([
    ["colder than any water", degC(-5.01), psu(35)],
    ["hotter than any water", degC(100.01), psu(35)],
    ["less than no salt", degC(20), psu(-0.01)],
    ["more than any brine here", degC(20), psu(120.01)],
    ["not a temperature", degC(Number.NaN), psu(35)],
    ["not a salinity", degC(20), psu(Number.POSITIVE_INFINITY)],
  ])("%s is invalid for every equation of water", (_, t, s) => {
    const results = [
      seawaterDensity(s, t),
      oxygenSaturation(t, s, hPa(1013.25)),
      ammoniaFraction({ ph: phUnits(8), t, s }),
      carbonateFromPhAlkalinity({ ph: phUnits(8), alkalinity: meqPerL(2.3), t, s }),
      osmolality(s, t),
      gasSolubility("O2", t, s),
      totalGasPressure({ bp: hPa(1013), dp: mmHg(0), t, s }),
      convertPh(phUnits(8), "nbs", "total", s, t),
    ];
    for (const result of results) expect(result).toMatchObject({ value: null, status: "invalid" });
  });
});
