/** Where equations stop being their authors', and what is refused with which words: edge by edge, on both sides. */
import { describe, expect, it } from "vitest";
import {
  carbonateFromAlkalinityCarbon,
  carbonateFromPhAlkalinity,
  carbonateFromPhCarbon,
  conductivityFromSpecificConductance,
  freezingPoint,
  gasExcessAtDepth,
  gasSolubility,
  osmolality,
  oxygenFromPercent,
  oxygenPercent,
  oxygenSaturation,
  salinityFromRefractometer,
  salinityUncertainty,
  specificConductance25,
  stationPressure,
  totalGasPressure,
  waterFromSalinity,
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
  percent,
  phUnits,
  psu,
  umolCarbonPerKg,
  usPerCm,
} from "#core/units/index.ts";

interface Found {
  readonly value: number | null;
  readonly status: string;
  readonly note: string | null;
}
/** In range: a number and no word; outside: a number and the range; refused: no number and the reason. */
type Edge = readonly [
  name: string,
  find: () => Found,
  status: "ok" | "extrapolated" | "invalid",
  words: RegExp | null,
];

function edges(what: string, rows: readonly Edge[]): void {
  describe(what, () => {
    it.each(rows)("%s", (_, find, status, words) => {
      const found = find();
      expect(found.status).toBe(status);
      expect(found.value === null).toBe(status === "invalid");
      if (words === null) expect(found.note).toBeNull();
      else expect(found.note).toMatch(words);
    });
  });
}
const NO_NUMBER = /not a finite number/;

interface Tensiometer {
  readonly bp?: number;
  readonly dp?: number;
  readonly t?: number;
  readonly s?: number;
  readonly oxygen?: number;
}
const gas = ({ bp = 1013.25, dp = 10, t = 20, s = 30, oxygen }: Tensiometer) =>
  totalGasPressure({
    bp: hPa(bp),
    dp: mmHg(dp),
    t: degC(t),
    s: psu(s),
    ...(oxygen === undefined ? {} : { do: mgPerL(oxygen) }),
  });
/** Vapour at 60 °C is 149 mmHg, 199 hPa (Weiss & Price 1980; steam tables give 19.93 kPa). */
const HOT = { t: 60, s: 0 };

// Colt 1984 with Weiss 1970: 0 to 40 °C, S 0 to 40; a tensiometer's 500 to 1100 hPa and -100 to 400 mmHg.
edges("total gas pressure", [
  ["0 °C", () => gas({ t: 0 }), "ok", null],
  ["below 0 °C", () => gas({ t: -0.01 }), "extrapolated", /0 to 40 °C/],
  ["40 °C", () => gas({ t: 40 }), "ok", null],
  ["above 40 °C", () => gas({ t: 40.01 }), "extrapolated", /0 to 40 °C/],
  ["S 40", () => gas({ s: 40 }), "ok", null],
  ["S above 40", () => gas({ s: 40.01 }), "extrapolated", /S 0 to 40/],
  ["500 hPa", () => gas({ bp: 500 }), "ok", null],
  ["below 500 hPa", () => gas({ bp: 499.9 }), "extrapolated", /500 to 1100 hPa/],
  ["1100 hPa", () => gas({ bp: 1100 }), "ok", null],
  ["above 1100 hPa", () => gas({ bp: 1100.1 }), "extrapolated", /500 to 1100 hPa/],
  ["400 mmHg of excess", () => gas({ dp: 400 }), "ok", null],
  ["more than 400 mmHg", () => gas({ dp: 400.1 }), "extrapolated", /400 mmHg/],
  ["-100 mmHg", () => gas({ dp: -100 }), "ok", null],
  ["less than -100 mmHg", () => gas({ dp: -100.1 }), "extrapolated", /-100 to 400/],
  ["200 hPa", () => gas({ bp: 200 }), "extrapolated", /500 to 1100/],
  ["below 200 hPa", () => gas({ bp: 199.9 }), "invalid", /barometer is outside 200 to 2000/],
  ["2000 hPa", () => gas({ bp: 2000 }), "extrapolated", /500 to 1100/],
  ["above 2000 hPa", () => gas({ bp: 2000.1 }), "invalid", /barometer is outside 200 to 2000/],
  ["no gas left", () => gas({ dp: -760 }), "invalid", /gas pressure is not above 0/],
  ["hardly any gas left", () => gas({ dp: -759.9 }), "extrapolated", /-100 to 400/],
  ["ten atmospheres of excess", () => gas({ dp: 7600 }), "extrapolated", /-100 to 400/],
  ["more than ten", () => gas({ dp: 7600.1 }), "invalid", /excess pressure is above 7600/],
  ["no oxygen", () => gas({ oxygen: 0 }), "ok", null],
  ["less than none", () => gas({ oxygen: -0.01 }), "invalid", /oxygen cannot be negative/],
  ["oxygen that is no number", () => gas({ oxygen: Number.NaN }), "invalid", NO_NUMBER],
  ["a barometer that is none", () => gas({ bp: Number.POSITIVE_INFINITY }), "invalid", NO_NUMBER],
  ["water that boils", () => gas({ ...HOT, t: 61, bp: 200 }), "invalid", /boils/],
  ["water that nearly does", () => gas({ ...HOT, bp: 201 }), "extrapolated", /0 to 40 °C/],
  [
    "more oxygen than gas",
    () => gas({ oxygen: 60 }),
    "invalid",
    /check the tensiometer and the oxygen probe/,
  ],
]);

const excess = (dp: number, depth: number, t = 20, s = 30) =>
  gasExcessAtDepth(mmHg(dp), metres(depth), degC(t), psu(s));
// The density is that of EOS-80: S 0 to 42, -2 to 40 °C (UNESCO 44).
edges("excess gas at depth", [
  ["the surface", () => excess(20, 0), "ok", null],
  ["above it", () => excess(20, -0.01), "invalid", /depth is outside 0 to 100 m/],
  ["100 m", () => excess(20, 100), "ok", null],
  ["deeper", () => excess(20, 100.1), "invalid", /depth is outside 0 to 100 m/],
  ["S 42", () => excess(20, 1, 20, 42), "ok", null],
  ["S above 42", () => excess(20, 1, 20, 42.1), "extrapolated", /density is outside S 0 to 42/],
  ["-2 °C", () => excess(20, 1, -2), "ok", null],
  ["colder", () => excess(20, 1, -2.1), "extrapolated", /-2 to 40 °C/],
  ["0 °C", () => excess(20, 1, 0), "ok", null],
  ["40 °C", () => excess(20, 1, 40), "ok", null],
  ["warmer", () => excess(20, 1, 40.1), "extrapolated", /-2 to 40 °C/],
  ["an excess that is no number", () => excess(Number.NaN, 1), "invalid", NO_NUMBER],
  ["a depth that is none", () => excess(1, Number.NaN), "invalid", NO_NUMBER],
]);

const specific = (c: number, t: number, alpha?: number) => specificConductance25(msPerCm(c), degC(t), alpha);
const raw = (k: number, t: number, alpha?: number) =>
  conductivityFromSpecificConductance(usPerCm(k), degC(t), alpha);
for (const [what, find] of [
  ["specific conductance", specific],
  ["conductivity behind it", raw],
] as const)
  edges(what, [
    ["0 °C", () => find(10, 0), "ok", null],
    ["below 0 °C", () => find(10, -0.1), "extrapolated", /rule of thumb outside 0 to 40/],
    ["40 °C", () => find(10, 40), "ok", null],
    ["above 40 °C", () => find(10, 40.1), "extrapolated", /rule of thumb outside 0 to 40/],
    ["none", () => find(0, 20), "ok", null],
    ["less than none", () => find(-0.1, 20), "invalid", /conductivity cannot be negative/],
    ["no water", () => find(10, -5.1), "invalid", /-5 to 100 °C/],
    ["a coefficient of 0", () => find(10, 20, 0), "ok", null],
    ["a coefficient below 0", () => find(10, 20, -0.001), "invalid", /coefficient is outside 0 to 0.05/],
    ["a coefficient of 0.05", () => find(10, 20, 0.05), "ok", null],
    ["one above 0.05", () => find(10, 20, 0.0501), "invalid", /coefficient is outside 0 to 0.05/],
    // 1 + 0.05 (5 - 25) is 0, and less for colder water.
    [
      "one that leaves nothing to divide by",
      () => find(10, 5, 0.05),
      "invalid",
      /a divisor that is not above 0/,
    ],
    ["one that leaves a little", () => find(10, 5.1, 0.05), "ok", null],
    ["a warm one that leaves more", () => find(10, 39, 0.05), "ok", null],
    ["a conductivity that is no number", () => find(Number.NaN, 20), "invalid", NO_NUMBER],
    ["a temperature that is none", () => find(10, Number.NaN), "invalid", NO_NUMBER],
    ["a coefficient that is none", () => find(10, 20, Number.NaN), "invalid", NO_NUMBER],
  ]);

const freezing = (s: number, p = 0) => freezingPoint(psu(s), dbar(p));
// Millero & Leung 1976: S 4 to 40 and 0 to 500 dbar (UNESCO 44).
edges("freezing point", [
  ["S 4", () => freezing(4), "ok", null],
  ["S below 4", () => freezing(3.9), "extrapolated", /S 4 to 40/],
  ["S 40", () => freezing(40), "ok", null],
  ["S above 40", () => freezing(40.1), "extrapolated", /S 4 to 40/],
  ["500 dbar", () => freezing(35, 500), "ok", null],
  ["more", () => freezing(35, 500.1), "extrapolated", /0 to 500 dbar/],
  ["less than the air's", () => freezing(35, -0.1), "extrapolated", /0 to 500 dbar/],
  ["-10 dbar", () => freezing(35, -10), "extrapolated", /0 to 500 dbar/],
  ["less than that", () => freezing(35, -10.1), "invalid", /pressure is outside -10 to 12000/],
  ["12000 dbar", () => freezing(35, 12000), "extrapolated", /0 to 500 dbar/],
  ["more than that", () => freezing(35, 12000.1), "invalid", /pressure is outside -10 to 12000/],
  ["S below 0", () => freezing(-0.1), "invalid", /salinity is outside 0 to 120/],
  ["S above 120", () => freezing(120.1), "invalid", /salinity is outside 0 to 120/],
  ["a salinity that is no number", () => freezing(Number.NaN), "invalid", NO_NUMBER],
  ["a pressure that is none", () => freezing(35, Number.NaN), "invalid", NO_NUMBER],
]);

const refracted = (reading: number, t: number, tCal = 20) =>
  salinityFromRefractometer({ reading: psu(reading), t: degC(t), tCal: degC(tCal) });
// Quan & Fry 1995: S 0 to 35, 0 to 30 °C.
edges("refractometer", [
  ["at the scale's temperature, S 0", () => refracted(0, 20), "ok", null],
  ["cold", () => refracted(20, 0), "ok", null],
  ["colder", () => refracted(20, -0.1), "extrapolated", /0 to 30 °C/],
  ["warm", () => refracted(20, 30), "ok", null],
  ["warmer", () => refracted(20, 30.1), "extrapolated", /0 to 30 °C/],
  ["a scale for 0 °C", () => refracted(20, 20, 0), "ok", null],
  ["a scale for less", () => refracted(20, 20, -0.1), "extrapolated", /0 to 30 °C/],
  ["a scale for 30 °C", () => refracted(20, 20, 30), "ok", null],
  ["a scale for more", () => refracted(20, 20, 30.1), "extrapolated", /0 to 30 °C/],
  ["salter than 35", () => refracted(36, 20), "extrapolated", /S 0 to 35/],
  ["fresher than 0", () => refracted(0, 10), "extrapolated", /S 0 to 35/],
  ["a reading below the scale", () => refracted(-0.1, 20), "invalid", /scale reading is outside/],
  ["a reading above any scale", () => refracted(120.1, 20), "invalid", /scale reading is outside/],
  ["no water", () => refracted(20, 101), "invalid", /-5 to 100 °C/],
  ["no water that the scale is for", () => refracted(20, 20, 101), "invalid", /-5 to 100 °C/],
  ["a reading that is no number", () => refracted(Number.NaN, 20), "invalid", NO_NUMBER],
  ["a temperature that is none", () => refracted(20, Number.NaN), "invalid", NO_NUMBER],
  ["a scale's that is none", () => refracted(20, 20, Number.NaN), "invalid", NO_NUMBER],
]);

const ATM = 1013.25;
// Benson & Krause 1984: 0 to 40 °C, S 0 to 40, 0.5 to 1.1 atm.
for (const [what, find] of [
  ["oxygen at saturation", (t: number, s: number, p: number) => oxygenSaturation(degC(t), psu(s), hPa(p))],
  [
    "percent of saturation",
    (t: number, s: number, p: number) => oxygenPercent(mgPerL(5), degC(t), psu(s), hPa(p)),
  ],
  [
    "oxygen from percent",
    (t: number, s: number, p: number) => oxygenFromPercent(percent(50), degC(t), psu(s), hPa(p)),
  ],
] as const)
  edges(what, [
    ["S 40", () => find(20, 40, ATM), "ok", null],
    ["S above 40", () => find(20, 40.1, ATM), "extrapolated", /S 0 to 40/],
    ["half an atmosphere", () => find(20, 30, ATM / 2), "ok", null],
    ["less", () => find(20, 30, 506), "extrapolated", /0.5 to 1.1 atm/],
    // 1.1 x 1013.25 in double precision is one rounding off 1.1 atm.
    ["1.1 atmospheres", () => find(20, 30, 1114.57), "ok", null],
    ["more", () => find(20, 30, 1114.6), "extrapolated", /0.5 to 1.1 atm/],
    ["200 hPa", () => find(20, 30, 200), "extrapolated", /0.5 to 1.1 atm/],
    ["below 200 hPa", () => find(20, 30, 199.9), "invalid", /station pressure is outside 200 to 2000/],
    ["2000 hPa", () => find(20, 30, 2000), "extrapolated", /0.5 to 1.1 atm/],
    ["above 2000 hPa", () => find(20, 30, 2000.1), "invalid", /station pressure is outside 200 to 2000/],
    ["water that boils", () => find(61, 0, 200), "invalid", /boils/],
    ["a pressure that is no number", () => find(20, 30, Number.NaN), "invalid", NO_NUMBER],
  ]);
const share = (amount: number) => oxygenPercent(mgPerL(amount), degC(20), psu(30), hPa(ATM));
const back = (amount: number) => oxygenFromPercent(percent(amount), degC(20), psu(30), hPa(ATM));
for (const [what, find] of [
  ["amounts of oxygen", share],
  ["percents of oxygen", back],
] as const)
  edges(what, [
    ["none", () => find(0), "ok", null],
    ["less than none", () => find(-0.1), "invalid", /cannot be negative/],
    ["as much as is taken for a reading", () => find(10_000), "ok", null],
    ["more", () => find(10_001), "invalid", /more oxygen than any water can hold/],
    ["no number", () => find(Number.NaN), "invalid", NO_NUMBER],
  ]);

const station = (seaLevel: number, height: number) => stationPressure(hPa(seaLevel), metres(height));
// US Standard Atmosphere 1976: the troposphere ends at 11000 m.
edges("station pressure", [
  ["11000 m", () => station(ATM, 11_000), "extrapolated", /-500 to 5000 m/],
  ["higher", () => station(ATM, 11_001), "invalid", /height is outside -5000 to 11000/],
  ["-5000 m", () => station(ATM, -5_000), "extrapolated", /-500 to 5000 m/],
  ["lower", () => station(ATM, -5_001), "invalid", /height is outside -5000 to 11000/],
  ["a pressure that is no number", () => station(Number.NaN, 0), "invalid", NO_NUMBER],
  ["a height that is none", () => station(ATM, Number.NaN), "invalid", NO_NUMBER],
]);

interface Carbonate {
  readonly water?: "fresh" | "brackish" | "marine";
  readonly constants?: "lueker" | "waters" | "fresh";
  readonly ph?: number;
  readonly t?: number;
  readonly s?: number;
  readonly calcium?: number;
  readonly ionicStrength?: number;
  readonly alkalinity?: number;
  readonly phScale?: "nbs" | "total";
}
const carbonate = ({ ph = 8, t = 20, s = 33, alkalinity = 2.3, calcium, ...rest }: Carbonate) =>
  carbonateFromPhAlkalinity({
    ph: phUnits(ph),
    phScale: "total",
    alkalinity: meqPerL(alkalinity),
    t: degC(t),
    s: psu(s),
    ...(calcium === undefined ? {} : { calcium: mgPerL(calcium) }),
    ...rest,
  } as Parameters<typeof carbonateFromPhAlkalinity>[0]) as unknown as Found;
const fresh = (more: Carbonate) => carbonate({ constants: "fresh", s: 0.2, ...more });
const waters = (more: Carbonate) => carbonate({ constants: "waters", s: 10, ...more });
// Lueker et al. 2000: S 19 to 43, 2 to 35 °C. Waters et al. 2014: S 1 to 50, 0 to 50 °C. Plummer & Busenberg 1982: fresh, 0 to 50 °C.
edges("carbonate system", [
  ["Lueker, S 19", () => carbonate({ s: 19 }), "ok", null],
  ["Lueker, S below 19", () => carbonate({ constants: "lueker", s: 18.9 }), "extrapolated", /S 19 to 43/],
  ["Lueker, 35 °C", () => carbonate({ t: 35 }), "ok", null],
  ["Waters, S 50", () => waters({ s: 50 }), "ok", null],
  ["Waters, S above 50", () => waters({ s: 50.1 }), "extrapolated", /S 1 to 50/],
  ["Waters, S below 1", () => waters({ s: 0.9 }), "extrapolated", /S 1 to 50/],
  ["Waters, 0 °C", () => waters({ t: 0 }), "ok", null],
  ["Waters, colder", () => waters({ t: -0.1 }), "extrapolated", /0 to 50 °C/],
  ["Waters, 50 °C", () => waters({ t: 50 }), "ok", null],
  ["Waters, warmer", () => waters({ t: 50.1 }), "extrapolated", /0 to 50 °C/],
  ["fresh, S below 1", () => fresh({ s: 0.99 }), "ok", null],
  ["fresh, S 1", () => fresh({ s: 1 }), "extrapolated", /S below 1/],
  ["fresh, 0 °C", () => fresh({ t: 0 }), "ok", null],
  ["fresh, colder", () => fresh({ t: -0.1 }), "extrapolated", /0 to 50 °C/],
  ["fresh, 50 °C", () => fresh({ t: 50 }), "ok", null],
  ["fresh, warmer", () => fresh({ t: 50.1 }), "extrapolated", /0 to 50 °C/],
  ["ionic strength 0.1", () => fresh({ ionicStrength: 0.1 }), "ok", null],
  ["more", () => fresh({ ionicStrength: 0.101 }), "invalid", /ionic strength is outside 0 to 0.1/],
  ["less than none", () => fresh({ ionicStrength: -0.001 }), "invalid", /ionic strength is outside 0 to 0.1/],
  ["as much calcium as is taken", () => carbonate({ calcium: 1e6 }), "ok", null],
  ["more calcium", () => carbonate({ calcium: 1.001e6 }), "invalid", /calcium is outside/],
  ["calcium below 0", () => carbonate({ calcium: -1 }), "invalid", /calcium is outside/],
  [
    "alkalinity of no water",
    () => carbonate({ alkalinity: 1.1e6 }),
    "invalid",
    /an amount is impossibly high/,
  ],
]);

const carbonOf = (carbon: number, alkalinity = 2.3) =>
  carbonateFromAlkalinityCarbon({
    alkalinity: meqPerL(alkalinity),
    dissolvedInorganicCarbon: umolCarbonPerKg(carbon),
    t: degC(20),
    s: psu(33),
  }) as unknown as Found;
const carbonAtPh = (carbon: number) =>
  carbonateFromPhCarbon({
    ph: phUnits(8),
    phScale: "total",
    dissolvedInorganicCarbon: umolCarbonPerKg(carbon),
    t: degC(20),
    s: psu(33),
  }) as unknown as Found;
edges("carbonate system from carbon", [
  ["none, with alkalinity", () => carbonOf(0), "ok", null],
  ["less than none", () => carbonOf(-1), "invalid", /carbon cannot be negative/],
  ["one of two amounts beyond any water", () => carbonOf(1.1e6), "invalid", /an amount is impossibly high/],
  ["no pH is acid enough", () => carbonOf(2_000, -100), "invalid", /pH/],
  ["no pH is basic enough", () => carbonOf(0, 900), "invalid", /pH/],
  ["none, at a pH", () => carbonAtPh(0), "ok", null],
  ["less than none, at a pH", () => carbonAtPh(-1), "invalid", /carbon cannot be negative/],
]);

const dissolved = (t: number, s: number, of: "O2" | "N2" = "O2") => gasSolubility(of, degC(t), psu(s));
// Garcia & Gordon 1992: 0 to 40 °C; Hamme & Emerson 2004: 0 to 30 °C; S taken to 40.
edges("gas at saturation", [
  ["0 °C", () => dissolved(0, 35), "ok", null],
  ["colder", () => dissolved(-0.1, 35), "extrapolated", /0 to 40 °C/],
  ["nitrogen at 30 °C", () => dissolved(30, 35, "N2"), "ok", null],
  ["nitrogen warmer", () => dissolved(30.1, 35, "N2"), "extrapolated", /0 to 30 °C/],
  ["S 40", () => dissolved(20, 40), "ok", null],
  ["S above 40", () => dissolved(20, 40.1), "extrapolated", /S 0 to 40/],
]);

const osmotic = (s: number, t: number) => osmolality(psu(s), degC(t));
// Fitted here to TEOS-10 over S 0.2 to 42 and 0 to 35 °C.
edges("osmolality", [
  ["S 42", () => osmotic(42, 20), "ok", null],
  ["S above 42", () => osmotic(42.1, 20), "extrapolated", /42/],
  ["0 °C", () => osmotic(35, 0), "ok", null],
  ["colder", () => osmotic(35, -0.1), "extrapolated", /0 to 35/],
]);

describe("uncertainty of a salinity", () => {
  it.each([0, -1, Number.NaN])("is not known at a conductivity of %d mS/cm", (c) => {
    expect(salinityUncertainty(c, 20, 0)).toBeNull();
  });
});

describe("the class of water assumed", () => {
  it.each([
    [0.99, "fresh"],
    [1, "brackish"],
    [18.99, "brackish"],
    [19, "marine"],
  ])("is at S %d %s", (s, water) => {
    // A convention of this project: Lueker et al. 2000 begin at S 19.
    expect(waterFromSalinity(s)).toBe(water);
  });
});

describe("vapour over water in equilibrium with it", () => {
  /** From the partial pressure of oxygen in air saturated with vapour, kPa. */
  const vapour = (t: number, s: number) => {
    const saturated = oxygenSaturation(degC(t), psu(s), hPa(ATM)).value ?? Number.NaN;
    const { partialPressure } = oxygenPercent(mgPerL(saturated), degC(t), psu(s), hPa(ATM));
    return (ATM - (partialPressure ?? Number.NaN) / 0.20946) / 10;
  };

  it.each([
    // Steam tables (IAPWS-IF97 saturation line), kPa; from memory. Green & Carritt 1967 lie 0.05 to 0.16 % below.
    [0, 0.6113],
    [20, 2.3388],
    [40, 7.3814],
    [60, 19.932],
    [80, 47.373],
  ])("is that of the steam tables at %d °C", (t, kPa) => {
    expect(vapour(t, 0) / kPa).toBeGreaterThan(0.998);
    expect(vapour(t, 0) / kPa).toBeLessThan(1);
  });

  it("is less by 0.0537 % for each unit of salinity", () => {
    // Green & Carritt 1967.
    expect(vapour(20, 35) / vapour(20, 0)).toBeCloseTo(1 - 35 * 5.37e-4, 9);
  });
});
