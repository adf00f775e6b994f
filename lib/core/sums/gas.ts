import {
  FIELD_OXYGEN,
  gasExcessAtDepth,
  gasSolubility,
  oxygenFromPercent,
  oxygenPercent,
  oxygenPercentUncertainty,
  oxygenSaturation,
  stationPressure,
  totalGasPressure,
} from "../chemistry/index.ts";
import { degC, hPa, metres, mgPerL, mmHg, percent, psu } from "../units/index.ts";
import { explainGasPressure, explainOxygen } from "../working/explain-gas.ts";
import { step } from "../working/explanation.ts";
import { inUnits, ofQuantity } from "./field.ts";
import { about, output, resultOf, type Sum } from "./sum.ts";

const TEMPERATURE = ofQuantity("temperature", "temperature", { example: 25 });
const SALINITY = ofQuantity("salinity", "salinity", { example: 35, hint: "0 in fresh water" });
const BAROMETER = ofQuantity("barometer", "barometric_pressure", {
  label: "Barometer on site",
  example: 1013.25,
  hint: "from a barometer on site, not the sea-level pressure of a weather report",
});
const HEIGHT = inUnits(
  "elevation",
  "Height above sea level",
  [
    ["m", 0],
    ["[ft_i]", 0],
  ],
  { example: 0 },
);
const OXYGEN = ofQuantity("dissolved_oxygen", "dissolved_oxygen", { example: 6.5 });

const oxygenShare: Sum = {
  name: "oxygen-percent",
  label: "Oxygen as percent of saturation",
  group: "Gases",
  about: "Oxygen in the water as a percentage of saturation at its temperature, salinity and air pressure.",
  fields: [OXYGEN, TEMPERATURE, SALINITY, BAROMETER],
  outputs: [
    output("percent", "Oxygen saturation", "%", 1),
    output("saturation", "100 % saturation here", "mg/L", 2),
    output("partial_pressure", "Partial pressure of oxygen", "hPa", 0),
  ],
  cautions: [
    "A probe computes mg/L with its own salinity setting: set to 0 in sea water, it reads about a fifth too high.",
  ],
  run(v) {
    const [o, t, s, p] = ["dissolved_oxygen", "temperature", "salinity", "barometer"].map((n) =>
      v.number(n),
    ) as [number, number, number, number];
    const found = oxygenPercent(mgPerL(o), degC(t), psu(s), hPa(p));
    const u = found.value === null ? null : oxygenPercentUncertainty(o, t, s, p);
    return resultOf(
      found,
      {
        percent: about(found.value, u, 0),
        saturation: { value: found.saturation },
        partial_pressure: { value: found.partialPressure },
      },
      explainOxygen(o, t, s, p, FIELD_OXYGEN.pressure, false),
    );
  },
};

const oxygenAmount: Sum = {
  name: "oxygen-amount",
  label: "Oxygen in mg/L from percent",
  group: "Gases",
  about: "Dissolved oxygen at a given percent of saturation; at 100 %, the saturation value itself.",
  fields: [ofQuantity("percent", "oxygen_saturation", { example: 100 }), TEMPERATURE, SALINITY, BAROMETER],
  outputs: [output("dissolved_oxygen", "Dissolved oxygen", "mg/L", 2)],
  cautions: [],
  run(v) {
    const [t, s, p] = [v.number("temperature"), v.number("salinity"), v.number("barometer")];
    const found = oxygenFromPercent(percent(v.number("percent")), degC(t), psu(s), hPa(p));
    const full = oxygenSaturation(degC(t), psu(s), hPa(p)).value;
    return resultOf(
      found,
      { dissolved_oxygen: { value: found.value } },
      {
        ...explainOxygen(found.value ?? 0, t, s, p, FIELD_OXYGEN.pressure, false),
        expression: ["DO = percent / 100 DOsat(t, S, P)"],
        uncertainty: [],
        ...(full === null ? { steps: [] } : {}),
      },
    );
  },
};

const station: Sum = {
  name: "station-pressure",
  label: "Air pressure on site",
  group: "Gases",
  about: "What a barometer on site reads when the weather report gives sea-level pressure.",
  fields: [
    ofQuantity("sea_level", "barometric_pressure", { label: "Pressure at sea level", example: 1013.25 }),
    HEIGHT,
  ],
  outputs: [output("station_pressure", "Barometer on site", "hPa", 1)],
  cautions: ["Good to about 1 %: real air is not the standard atmosphere. A barometer on site is better."],
  run(v) {
    const z = v.number("elevation");
    const found = stationPressure(hPa(v.number("sea_level")), metres(z));
    return resultOf(
      found,
      { station_pressure: { value: found.value } },
      {
        expression: ["P = Psl (1 - 0.0065 z / 288.15)^5.25588, z in m"],
        range: "-500 to 5000 m, 850 to 1090 hPa at sea level",
        source: "ICAO / US Standard Atmosphere 1976 (from memory)",
        steps: [step("Ratio to sea level", (1 - (0.0065 * z) / 288.15) ** 5.25588)],
        uncertainty: [],
      },
    );
  },
};

const EXCESS = ofQuantity("excess", "gas_excess", {
  example: 30,
  hint: "tensiometer reading above barometric pressure",
});

const gasPressure: Sum = {
  name: "gas-pressure",
  label: "Total gas pressure and nitrogen",
  group: "Gases",
  about: "A gas tensiometer reading in percent, split into oxygen, water vapour, and nitrogen with argon.",
  fields: [
    BAROMETER,
    EXCESS,
    TEMPERATURE,
    SALINITY,
    ofQuantity("dissolved_oxygen", "dissolved_oxygen", {
      example: 7,
      isOptional: true,
      hint: "if empty, the gases are not split",
    }),
  ],
  outputs: [
    output("total", "Total gas pressure", "%", 1),
    output("nitrogen_argon", "Nitrogen with argon, of saturation", "%", 1),
    output("oxygen_pressure", "Oxygen", "mmHg", 1),
    output("vapour_pressure", "Water vapour", "mmHg", 1),
    output("nitrogen_argon_pressure", "Nitrogen with argon", "mmHg", 1),
  ],
  cautions: [
    "At the surface. Deeper, the head of water keeps bubbles from forming: see gas excess at depth.",
    "CO2 is not included: it is below 1 mmHg in ordinary water.",
  ],
  run(v) {
    const oxygen = v.numberOrNull("dissolved_oxygen");
    const [bp, dp, t, s] = ["barometer", "excess", "temperature", "salinity"].map((n) => v.number(n)) as [
      number,
      number,
      number,
      number,
    ];
    const found = totalGasPressure({
      bp: hPa(bp),
      dp: mmHg(dp),
      t: degC(t),
      s: psu(s),
      ...(oxygen === null ? {} : { do: mgPerL(oxygen) }),
    });
    return resultOf(
      found,
      {
        total: { value: found.value },
        nitrogen_argon: { value: found.nitrogenArgonPercent },
        oxygen_pressure: { value: found.oxygenPressure },
        vapour_pressure: { value: found.vapourPressure },
        nitrogen_argon_pressure: { value: found.nitrogenArgonPressure },
      },
      explainGasPressure(dp, bp, t, s, found),
    );
  },
};

const atDepth: Sum = {
  name: "gas-at-depth",
  label: "Gas excess at depth",
  group: "Gases",
  about: "How much of a gas excess is left below the surface; below 0, no bubbles can form there.",
  fields: [
    EXCESS,
    inUnits(
      "depth",
      "Depth",
      [
        ["m", 1],
        ["[ft_i]", 1],
      ],
      { example: 1 },
    ),
    TEMPERATURE,
    SALINITY,
  ],
  outputs: [output("excess", "Excess at that depth", "mmHg", 1)],
  cautions: ["An animal that comes up to the surface is exposed to the full surface excess."],
  run(v) {
    const found = gasExcessAtDepth(
      mmHg(v.number("excess")),
      metres(v.number("depth")),
      degC(v.number("temperature")),
      psu(v.number("salinity")),
    );
    return resultOf(
      found,
      { excess: { value: found.value } },
      {
        expression: ["dP(z) = dP - rho(S, t) g z, g = 9.80665 m/s²"],
        range: "depth 0 to 100 m; density S 0 to 42, -2 to 40 °C",
        source: "Colt 1984; density Millero & Poisson 1981",
        steps: found.value === null ? [] : [step("Head of water", v.number("excess") - found.value, "mmHg")],
        uncertainty: [],
      },
    );
  },
};

const solubility: Sum = {
  name: "gas-solubility",
  label: "Solubility of nitrogen, argon and oxygen",
  group: "Gases",
  about: "How much of each gas sea water holds in equilibrium with moist air at one atmosphere.",
  fields: [TEMPERATURE, SALINITY],
  outputs: [
    output("nitrogen", "Nitrogen", "µmol/kg", 1),
    output("argon", "Argon", "µmol/kg", 2),
    output("oxygen", "Oxygen", "µmol/kg", 1),
  ],
  cautions: [],
  run(v) {
    const [t, s] = [degC(v.number("temperature")), psu(v.number("salinity"))];
    const gases = { nitrogen: "N2", argon: "Ar", oxygen: "O2" } as const;
    const found = Object.entries(gases).map(([name, gas]) => [name, gasSolubility(gas, t, s)] as const);
    const worst =
      found.find(([, gas]) => gas.status === "invalid") ??
      found.find(([, gas]) => gas.status === "extrapolated") ??
      found[0];
    const { status, note } = (worst as (typeof found)[number])[1];
    const formula = [...new Set(found.map(([, gas]) => gas.formula))].join("; ");
    return resultOf(
      { status, note, formula },
      Object.fromEntries(found.map(([name, gas]) => [name, { value: gas.value }])),
      {
        expression: ["ln C = sum A_i Ts^i + S sum B_i Ts^i + C0 S²;  Ts = ln((298.15 - t) / (273.15 + t))"],
        range: "0 to 30 °C for nitrogen and argon, to 40 °C for oxygen; S 0 to 40",
        source: "Hamme & Emerson 2004; Garcia & Gordon 1992",
        steps: [step("Scaled temperature Ts", Math.log((298.15 - t) / (273.15 + t)))],
        uncertainty: [],
      },
    );
  },
};

export const GAS_SUMS: readonly Sum[] = [
  oxygenShare,
  oxygenAmount,
  station,
  gasPressure,
  atDepth,
  solubility,
];
