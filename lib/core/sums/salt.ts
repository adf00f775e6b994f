import {
  conductivityFromSalinity,
  conductivityFromSpecificConductance,
  DEFAULT_ALPHA,
  freezingPoint,
  osmolality,
  practicalSalinity,
  salinityFromHydrometer,
  salinityFromRefractometer,
  salinityUncertainty,
  seawaterDensity,
  specificConductance25,
  specificGravity,
} from "../chemistry/index.ts";
import { degC, type In, msPerCm, psu, pureNumber, usPerCm } from "../units/index.ts";
import {
  explainConductance,
  explainDensity,
  explainGravity,
  explainOsmolality,
  explainSalinity,
} from "../working/explain-water.ts";
import type { Explanation } from "../working/explanation.ts";
import { inUnits, ofQuantity } from "./field.ts";
import { about, output, resultOf, type Sum } from "./sum.ts";

const TEMPERATURE = ofQuantity("temperature", "temperature", { example: 25 });
const SALINITY = ofQuantity("salinity", "salinity", { example: 35 });
const PRESSURE = inUnits(
  "pressure",
  "Water pressure at the probe, above atmospheric",
  [
    ["dbar", 1],
    ["m[H2O]", 1],
  ],
  { usual: 0, hint: "1 dbar is about a metre of water; 0 at the bench" },
);
const facts = (expression: readonly string[], range: string, source: string): Explanation => ({
  expression,
  range,
  source,
  steps: [],
  uncertainty: [],
});

const salinity: Sum = {
  name: "salinity",
  label: "Salinity from conductivity",
  group: "Salt and density",
  about: "Practical salinity from raw conductivity and temperature.",
  fields: [
    ofQuantity("conductivity", "conductivity", { example: 53, hint: "raw, not compensated to 25 °C" }),
    TEMPERATURE,
    PRESSURE,
  ],
  outputs: [output("salinity", "Salinity", "", 3)],
  cautions: [
    "A meter set to show conductivity at 25 °C gives a different number: undo its compensation first.",
    "Below S 0.5 the ions are those of tap water, not sea salt: use specific conductance.",
  ],
  run(v) {
    const [c, t, p] = [v.number("conductivity"), v.number("temperature"), v.number("pressure")];
    const found = practicalSalinity(msPerCm(c), degC(t), p as In<"dbar">);
    return resultOf(
      found,
      { salinity: about(found.value, salinityUncertainty(c, t, p), 0) },
      explainSalinity(c, t, p),
    );
  },
};

const conductivity: Sum = {
  name: "conductivity",
  label: "Conductivity of sea water",
  group: "Salt and density",
  about: "What a conductivity probe should read in sea water of a known salinity.",
  fields: [SALINITY, TEMPERATURE, PRESSURE],
  outputs: [output("conductivity", "Conductivity (raw)", "mS/cm", 3)],
  cautions: ["For sea salt only; a mix of other ions conducts differently."],
  run(v) {
    const found = conductivityFromSalinity(
      psu(v.number("salinity")),
      degC(v.number("temperature")),
      v.number("pressure") as In<"dbar">,
    );
    return resultOf(
      found,
      { conductivity: { value: found.value } },
      facts(
        ["PSS-78 solved for C by bisection"],
        "S 0 to 42, -2 to 35 °C, 0 to 10000 dbar",
        "Fofonoff & Millard 1983 (UNESCO 44)",
      ),
    );
  },
};

const ALPHA = inUnits("alpha", "Temperature compensation of the meter, per °C", [["1", 4]], {
  usual: DEFAULT_ALPHA,
  hint: "0.0191 or 0.020 in most meters; see the manual",
});

const specificConductance: Sum = {
  name: "specific-conductance",
  label: "Specific conductance at 25 °C",
  group: "Salt and density",
  about: "What a raw conductivity would be at 25 °C by the meter's linear compensation.",
  fields: [ofQuantity("conductivity", "conductivity", { example: 0.6 }), TEMPERATURE, ALPHA],
  outputs: [output("specific_conductance", "Specific conductance at 25 °C", "µS/cm", 1)],
  cautions: ["No constant compensation is right for sea salt: it is up to 2 % off between 5 and 35 °C."],
  run(v) {
    const [t, alpha] = [v.number("temperature"), v.number("alpha")];
    const found = specificConductance25(msPerCm(v.number("conductivity")), degC(t), alpha);
    return resultOf(found, { specific_conductance: { value: found.value } }, explainConductance(alpha, t));
  },
};

const rawConductivity: Sum = {
  name: "raw-conductivity",
  label: "Raw conductivity from specific conductance",
  group: "Salt and density",
  about: "Undoes a meter's compensation to 25 °C, so that salinity can be computed.",
  fields: [
    ofQuantity("specific_conductance", "specific_conductance", { example: 53000 }),
    TEMPERATURE,
    ALPHA,
  ],
  outputs: [output("conductivity", "Conductivity (raw)", "mS/cm", 3)],
  cautions: [
    "Only right with the meter's own compensation: a different one leaves an error of up to 0.8 in salinity.",
  ],
  run(v) {
    const [t, alpha] = [v.number("temperature"), v.number("alpha")];
    const found = conductivityFromSpecificConductance(
      usPerCm(v.number("specific_conductance")),
      degC(t),
      alpha,
    );
    return resultOf(
      found,
      { conductivity: { value: found.value } },
      {
        ...explainConductance(alpha, t),
        expression: ["C = K25 (1 + a (t - 25))"],
      },
    );
  },
};

const density: Sum = {
  name: "density",
  label: "Density of sea water",
  group: "Salt and density",
  about: "Density at atmospheric pressure from salinity and temperature.",
  fields: [SALINITY, TEMPERATURE],
  outputs: [output("density", "Density", "kg/m³", 3)],
  cautions: ["At 10 m depth add 0.045 kg/m³."],
  run(v) {
    const t = v.number("temperature");
    const found = seawaterDensity(psu(v.number("salinity")), degC(t));
    return resultOf(found, { density: { value: found.value } }, explainDensity(t));
  },
};

const REFERENCE = ofQuantity("reference", "temperature", {
  label: "Reference temperature of the pure water",
  usual: 25,
});

const gravity: Sum = {
  name: "specific-gravity",
  label: "Specific gravity",
  group: "Salt and density",
  about: "Density of the sample divided by that of pure water at a reference temperature.",
  fields: [SALINITY, TEMPERATURE, REFERENCE],
  outputs: [output("specific_gravity", "Specific gravity", "", 5)],
  cautions: ["A figure without both temperatures means little: S 35 is 1.0264 at 25/25 and 1.0269 at 15/15."],
  run(v) {
    const [s, t, tRef] = [v.number("salinity"), v.number("temperature"), v.number("reference")];
    const found = specificGravity(psu(s), degC(t), degC(tRef));
    return resultOf(found, { specific_gravity: { value: found.value } }, explainGravity(s, t, tRef));
  },
};

const hydrometer: Sum = {
  name: "hydrometer",
  label: "Salinity from a glass hydrometer",
  group: "Salt and density",
  about: "Salinity from a hydrometer reading, corrected for the temperatures of the water and the glass.",
  fields: [
    ofQuantity("reading", "specific_gravity", { label: "Hydrometer reading", example: 1.0264 }),
    ofQuantity("temperature", "temperature", { label: "Water temperature", example: 25 }),
    ofQuantity("calibration", "temperature", { label: "First temperature marked on the glass", usual: 25 }),
    ofQuantity("reference", "temperature", { label: "Second temperature marked on the glass", usual: 25 }),
    inUnits("expansion", "Cubic expansion of the glass, per °C", [["1", 6]], { usual: 25e-6 }),
  ],
  outputs: [output("salinity", "Salinity", "", 2)],
  cautions: [
    "There is no valid correction for plastic swing-arm gauges: they are off by 2 or more in salinity.",
  ],
  run(v) {
    const found = salinityFromHydrometer({
      reading: pureNumber(v.number("reading")),
      t: degC(v.number("temperature")),
      tCal: degC(v.number("calibration")),
      tRef: degC(v.number("reference")),
      glassExpansion: v.number("expansion"),
    });
    return resultOf(
      found,
      { salinity: { value: found.value } },
      facts(
        ["rho = reading rho(0, tref) (1 - a (t - tcal)), then S with rho(S, t) = rho"],
        "S 0 to 42, -2 to 40 °C",
        "Millero & Poisson 1981 (EOS-80); glass expansion as hydrometer standards use (from memory)",
      ),
    );
  },
};

const refractometer: Sum = {
  name: "refractometer",
  label: "Salinity from a refractometer",
  group: "Salt and density",
  about: "Corrects a refractometer without automatic temperature compensation.",
  fields: [
    ofQuantity("reading", "salinity", { label: "Scale reading", example: 30 }),
    ofQuantity("temperature", "temperature", { label: "Sample temperature", example: 25 }),
    ofQuantity("calibration", "temperature", { label: "Calibration temperature of the scale", usual: 20 }),
  ],
  outputs: [output("salinity", "Salinity", "", 1)],
  cautions: [
    "Apply no correction to a refractometer with automatic temperature compensation.",
    "A sodium chloride scale is off by 1 to 2 in sea water: calibrate with a standard of 35.",
  ],
  run(v) {
    const found = salinityFromRefractometer({
      reading: pureNumber(v.number("reading")),
      t: degC(v.number("temperature")),
      tCal: degC(v.number("calibration")),
    });
    return resultOf(
      found,
      { salinity: about(found.value, found.value === null ? null : 0.5) },
      facts(
        ["S = (n(reading, tcal) - n(0, t)) / (n(1, t) - n(0, t)), n the refractive index at 589.3 nm"],
        "S 0 to 35, 0 to 30 °C; 1 in S at best (common practice, no source)",
        "Quan & Fry 1995",
      ),
    );
  },
};

const osmotic: Sum = {
  name: "osmolality",
  label: "Osmolality of sea water",
  group: "Salt and density",
  about: "The osmotic strength of the water that an animal lives in, in osmoles per kilogram.",
  fields: [SALINITY, TEMPERATURE],
  outputs: [
    output("osmolality", "Osmolality", "mOsm/kg", 1),
    output("osmotic_coefficient", "Osmotic coefficient", "", 4),
  ],
  cautions: ["For sea water only. A laboratory measures the osmolality of an animal's blood."],
  run(v) {
    const s = v.number("salinity");
    const found = osmolality(psu(s), degC(v.number("temperature")));
    const coefficient = found.osmoticCoefficient;
    return resultOf(
      found,
      { osmolality: { value: found.value }, osmotic_coefficient: { value: coefficient } },
      explainOsmolality(s, coefficient ?? Number.NaN),
    );
  },
};

const freezing: Sum = {
  name: "freezing-point",
  label: "Freezing point of sea water",
  group: "Salt and density",
  about: "The lowest temperature a thermometer can plausibly show in liquid sea water.",
  fields: [SALINITY, PRESSURE],
  outputs: [output("freezing_point", "Freezing point", "°C", 3)],
  cautions: [],
  run(v) {
    const found = freezingPoint(psu(v.number("salinity")), v.number("pressure") as In<"dbar">);
    return resultOf(
      found,
      { freezing_point: { value: found.value } },
      facts(
        ["t68 = -0.0575 S + 1.710523e-3 S^1.5 - 2.154996e-4 S² - 7.53e-4 p;  t = t68 / 1.00024"],
        "S 4 to 40, 0 to 500 dbar",
        "Millero & Leung 1976 (UNESCO 44)",
      ),
    );
  },
};

export const SALT_SUMS: readonly Sum[] = [
  salinity,
  conductivity,
  specificConductance,
  rawConductivity,
  density,
  gravity,
  hydrometer,
  refractometer,
  osmotic,
  freezing,
];
