/** The working of the carbonate system. */

import { carbonateConstants, constantSetFor } from "../chemistry/carbonate-constants.ts";
import {
  type CarbonateFromPh,
  type CarbonatePart,
  type CarbonateSystem,
  type CarbonateUncertainty,
  carbonateUncertainty,
  seawaterDensity,
  waterFromSalinity,
} from "../chemistry/index.ts";
import { NBS_FLOOR } from "../chemistry/ph-scale.ts";
import { numberText } from "../units/number-text.ts";
import { type Explanation, parts, step } from "./explanation.ts";

const NONE: CarbonateUncertainty = { ph: 0, alkalinityRelative: 0, t: 0, s: 0, calciumRelative: 0 };

const RANGES = {
  lueker: "S 19 to 43, 2 to 35 °C",
  waters: "S 1 to 50, 0 to 50 °C",
  fresh: "S below 1, 0 to 50 °C; no boron, no minerals",
};
const SOURCES = {
  lueker: "Lueker et al. 2000; Dickson 1990; Weiss 1974; Mucci 1983; Dickson, Sabine & Christian 2007",
  waters: "Waters et al. 2014; Dickson 1990; Weiss 1974; Mucci 1983; Dickson, Sabine & Christian 2007",
  fresh: "Millero 1979; Weiss 1974",
};

/** Constants, totals and species of one solved water. */
export function carbonateSteps(
  input: Omit<CarbonateFromPh, "ph" | "alkalinity">,
  system: CarbonateSystem,
): Explanation["steps"] {
  const set = input.constants ?? constantSetFor(input.water ?? waterFromSalinity(input.s));
  const k = carbonateConstants(set, input.t, input.s, input.ionicStrength);
  const saltOnly = set === "fresh" ? [] : [step("Boric acid pKB", -Math.log10(k.kb))];
  return [
    step(set === "fresh" ? "pH as read" : "pH on the total scale", system.phTotal),
    step("Density of the water", seawaterDensity(input.s, input.t).value ?? Number.NaN, "kg/m³"),
    step("Alkalinity", system.alkalinityPerKg, "µeq/kg"),
    step("Carbonic acid pK1", -Math.log10(k.k1)),
    step("Bicarbonate pK2", -Math.log10(k.k2)),
    ...saltOnly,
    step("Solubility of CO2, ln K0", Math.log(k.k0)),
    step("Dissolved inorganic carbon", system.dissolvedInorganicCarbon, "µmol/kg"),
    step("CO2", system.co2, "µmol/kg"),
    step("HCO3", system.bicarbonate, "µmol/kg"),
    step("CO3", system.carbonate, "µmol/kg"),
    step("Partial pressure of CO2", system.pco2, "µatm"),
    ...(system.aragoniteSaturation === null || system.calciteSaturation === null
      ? []
      : [
          step(
            input.calcium === undefined ? "Calcium of sea salt at this S" : "Calcium as measured",
            input.calcium ??
              k.totalCalcium * 40.078 * (seawaterDensity(input.s, input.t).value ?? Number.NaN),
            "mg/L",
          ),
          step("Solubility of calcite, log10 Ksp", Math.log10(k.kCalcite)),
          step("Solubility of aragonite, log10 Ksp", Math.log10(k.kAragonite)),
          step("Calcite saturation", system.calciteSaturation),
          step("Aragonite saturation", system.aragoniteSaturation),
        ]),
  ];
}

/** Of one part of the carbonate system solved from pH and alkalinity. */
export function explainCarbonate(
  input: CarbonateFromPh,
  system: CarbonateSystem,
  part: CarbonatePart,
  u: CarbonateUncertainty,
): Explanation {
  const set = input.constants ?? constantSetFor(input.water ?? waterFromSalinity(input.s));
  const isNbs = (input.phScale ?? "nbs") === "nbs" && set !== "fresh";
  const uPh = isNbs ? Math.max(u.ph, NBS_FLOOR) : u.ph;
  const of = (only: Partial<CarbonateUncertainty>) =>
    carbonateUncertainty(input, part, { ...NONE, ...only }, 0);
  const minerals = part === "aragoniteSaturation" || part === "calciteSaturation";
  return {
    ...carbonateFacts(set, part),
    steps: carbonateSteps(input, system),
    uncertainty: parts(true, [
      ["pH", `${uPh} pH`, of({ ph: u.ph })],
      [
        "Alkalinity, including its age",
        `${numberText(100 * u.alkalinityRelative, 1)} % of the result`,
        of({ alkalinityRelative: u.alkalinityRelative }),
      ],
      ["Temperature", `${u.t} °C`, of({ t: u.t })],
      ["Salinity", `${u.s}`, set === "fresh" ? null : of({ s: u.s })],
      [
        "Calcium",
        `${numberText(100 * u.calciumRelative, 1)} %`,
        minerals ? of({ calciumRelative: u.calciumRelative }) : null,
      ],
      ["Constants", "as proposed by Orr et al. 2018 (from memory)", carbonateUncertainty(input, part, NONE)],
    ]),
  };
}

export function carbonateFacts(
  set: keyof typeof RANGES,
  part: CarbonatePart | null,
): Pick<Explanation, "expression" | "range" | "source"> {
  const last =
    part === "aragoniteSaturation" || part === "calciteSaturation"
      ? ["saturation = [Ca][CO3] / Ksp"]
      : ["pCO2 = CO2 / (K0 g), g the fugacity factor"];
  return {
    expression: [
      "carbonate alkalinity = alkalinity - borate - hydroxide + hydrogen ion, sulphate and fluoride",
      "DIC = carbonate alkalinity (h² + K1 h + K1 K2) / (K1 h + 2 K1 K2), h = 10^-pH",
      "CO2 = DIC h² / (...);  HCO3 = DIC K1 h / (...);  CO3 = DIC K1 K2 / (...)",
      ...last,
    ],
    range: RANGES[set],
    source: SOURCES[set],
  };
}
