import { constantSetFor } from "../chemistry/carbonate-constants.ts";
import {
  type CarbonatePart,
  type CarbonateResult,
  type CarbonateSystem,
  type CarbonateWater,
  carbonateFromAlkalinityCarbon,
  carbonateFromAlkalinityPco2,
  carbonateFromPhAlkalinity,
  carbonateFromPhCarbon,
  carbonateUncertainty,
  convertPh,
  FIELD_CARBONATE,
  type PhScale,
  type Water,
  waterFromSalinity,
} from "../chemistry/index.ts";
import { degC, meqPerL, mgPerL, microatm, phUnits, psu, umolCarbonPerKg } from "../units/index.ts";
import { carbonateFacts, carbonateSteps, explainCarbonate } from "../working/explain-carbonate.ts";
import type { Explanation } from "../working/explanation.ts";
import { type Field, inUnits, ofQuantity, type SumValues } from "./field.ts";
import { type OutputValue, output, resultOf, type Sum, type SumResult } from "./sum.ts";
import { PH_SCALE, scaleOf, WATER, waterOf } from "./water-fields.ts";

const PH = ofQuantity("ph", "ph", { example: 8.1 });
const ALKALINITY = ofQuantity("alkalinity", "alkalinity", { example: 2.4 });
const CARBON = inUnits("carbon", "Dissolved inorganic carbon", [["umol{CO2}/kg", 1]], { example: 2000 });
const PCO2 = ofQuantity("pco2", "pco2", { example: 420 });
const COMMON: readonly Field[] = [
  ofQuantity("temperature", "temperature", { example: 25 }),
  ofQuantity("salinity", "salinity", { example: 35 }),
  ofQuantity("calcium", "calcium", {
    isOptional: true,
    hint: "as measured; if empty, that of sea salt at this salinity",
  }),
  WATER,
];
const OUTPUTS = [
  output("ph_total", "pH, total scale", "", 3),
  output("alkalinity", "Alkalinity", "meq/L", 3),
  output("carbon", "Dissolved inorganic carbon", "µmol/kg", 1),
  output("pco2", "Partial pressure of CO₂", "µatm", 0),
  output("carbon_dioxide", "Dissolved CO₂", "mg/L", 2),
  output("bicarbonate", "Bicarbonate", "µmol/kg", 1),
  output("carbonate", "Carbonate", "µmol/kg", 1),
  output("aragonite", "Aragonite saturation", "", 2),
  output("calcite", "Calcite saturation", "", 2),
];
const CAUTIONS = [
  "With pH from a probe, trust only two digits of pCO2 and one decimal of saturation: 0.05 in pH is 14 % of pCO2.",
  "Phosphate, silicate and ammonia also add to alkalinity and are not included.",
];

function waterFields(v: SumValues): CarbonateWater & { readonly water: Water } {
  const calcium = v.numberOrNull("calcium");
  return {
    t: degC(v.number("temperature")),
    s: psu(v.number("salinity")),
    water: waterOf(v) ?? waterFromSalinity(v.number("salinity")),
    ...(calcium === null ? {} : { calcium: mgPerL(calcium) }),
  };
}

function outputsOf(
  system: CarbonateSystem | null,
  spread: (part: CarbonatePart, value: number | null) => OutputValue,
): SumResult["outputs"] {
  if (system === null) return {};
  return {
    ph_total: { value: system.phTotal },
    alkalinity: { value: system.alkalinity },
    carbon: spread("dissolvedInorganicCarbon", system.dissolvedInorganicCarbon),
    pco2: spread("pco2", system.pco2),
    carbon_dioxide: { value: system.carbonDioxide },
    bicarbonate: { value: system.bicarbonate },
    carbonate: { value: system.carbonate },
    aragonite: spread("aragoniteSaturation", system.aragoniteSaturation),
    calcite: spread("calciteSaturation", system.calciteSaturation),
  };
}

function plainOf(water: CarbonateWater & { readonly water: Water }, found: CarbonateResult): SumResult {
  const explanation: Explanation = {
    ...carbonateFacts(constantSetFor(water.water), null),
    steps: found.value === null ? [] : carbonateSteps(water, found.value),
    uncertainty: [],
  };
  return resultOf(
    found,
    outputsOf(found.value, (_part, value) => ({ value })),
    explanation,
  );
}

const fromAlkalinity: Sum = {
  name: "carbonate",
  label: "Carbonate system from pH and alkalinity",
  group: "pH and carbonate",
  about: "CO2, bicarbonate, carbonate and the saturation of aragonite and calcite.",
  fields: [PH, PH_SCALE, ALKALINITY, ...COMMON],
  outputs: OUTPUTS,
  cautions: CAUTIONS,
  run(v) {
    const input = {
      ...waterFields(v),
      ph: phUnits(v.number("ph")),
      phScale: scaleOf(v),
      alkalinity: meqPerL(v.number("alkalinity")),
    };
    const found = carbonateFromPhAlkalinity(input);
    if (found.value === null) return plainOf(input, found);
    const spread = (part: CarbonatePart, value: number | null): OutputValue => {
      const u = value === null ? null : carbonateUncertainty(input, part);
      return value === null || u === null
        ? { value }
        : { value, low: value * Math.exp(-2 * u), high: value * Math.exp(2 * u) };
    };
    return resultOf(
      found,
      outputsOf(found.value, spread),
      explainCarbonate(input, found.value, "pco2", FIELD_CARBONATE),
    );
  },
};

const fromAlkalinityCarbon: Sum = {
  name: "carbonate-from-carbon",
  label: "Carbonate system from alkalinity and carbon",
  group: "pH and carbonate",
  about:
    "pH and the rest of the carbonate system from alkalinity and dissolved inorganic carbon measured in a laboratory.",
  fields: [ALKALINITY, CARBON, ...COMMON],
  outputs: OUTPUTS,
  cautions: CAUTIONS.slice(1),
  run(v) {
    const water = waterFields(v);
    return plainOf(
      water,
      carbonateFromAlkalinityCarbon({
        ...water,
        alkalinity: meqPerL(v.number("alkalinity")),
        dissolvedInorganicCarbon: umolCarbonPerKg(v.number("carbon")),
      }),
    );
  },
};

const fromAlkalinityPco2: Sum = {
  name: "carbonate-from-pco2",
  label: "pH in equilibrium with air",
  group: "pH and carbonate",
  about:
    "The pH of water with this alkalinity in equilibrium with a partial pressure of CO2, such as that of the room's air.",
  fields: [ALKALINITY, PCO2, ...COMMON],
  outputs: OUTPUTS,
  cautions: ["Air in a public hall is not outdoor air: 600 to 1500 µatm is common.", ...CAUTIONS.slice(1)],
  run(v) {
    const water = waterFields(v);
    return plainOf(
      water,
      carbonateFromAlkalinityPco2({
        ...water,
        alkalinity: meqPerL(v.number("alkalinity")),
        pco2: microatm(v.number("pco2")),
      }),
    );
  },
};

const fromPhCarbon: Sum = {
  name: "carbonate-from-ph-carbon",
  label: "Carbonate system from pH and carbon",
  group: "pH and carbonate",
  about: "Alkalinity and the rest of the carbonate system from pH and dissolved inorganic carbon.",
  fields: [PH, PH_SCALE, CARBON, ...COMMON],
  outputs: OUTPUTS,
  cautions: CAUTIONS,
  run(v) {
    const water = waterFields(v);
    return plainOf(
      water,
      carbonateFromPhCarbon({
        ...water,
        ph: phUnits(v.number("ph")),
        phScale: scaleOf(v),
        dissolvedInorganicCarbon: umolCarbonPerKg(v.number("carbon")),
      }),
    );
  },
};

const SCALES: readonly PhScale[] = ["total", "nbs", "sws", "free"];

const scales: Sum = {
  name: "ph-scale",
  label: "pH on another scale",
  group: "pH and carbonate",
  about: "One pH converted to all four scales.",
  fields: [
    PH,
    PH_SCALE,
    ofQuantity("temperature", "temperature", { example: 25 }),
    ofQuantity("salinity", "salinity", { example: 35 }),
  ],
  outputs: [
    output("total", "Total scale", "", 3),
    output("nbs", "NBS scale", "", 3),
    output("sws", "Sea-water scale", "", 3),
    output("free", "Free scale", "", 3),
  ],
  cautions: [
    "The difference between NBS and the other scales depends on the electrode: ±0.02 to 0.05 at best. Measure a tris buffer to settle it.",
  ],
  run(v) {
    const from = scaleOf(v);
    const of = (to: PhScale) =>
      convertPh(phUnits(v.number("ph")), from, to, psu(v.number("salinity")), degC(v.number("temperature")));
    // What limits the step between NBS and the rest limits the whole answer.
    const found = of(from === "nbs" ? "total" : "nbs");
    return resultOf(found, Object.fromEntries(SCALES.map((to) => [to, { value: of(to).value }])), {
      expression: ["pH(total) = pH(free) - log10(1 + ST/KS) = pH(sws) + log10(f2s/f2t) = pH(NBS) - D(S, t)"],
      range: "NBS: S 20 to 40, 0 to 40 °C; below S 20 a ramp chosen by this project",
      source: "Dickson 1990; Dickson & Riley 1979; Takahashi et al. 1982",
      steps: [],
      uncertainty: [],
    });
  },
};

export const CARBONATE_SUMS: readonly Sum[] = [
  fromAlkalinity,
  fromAlkalinityCarbon,
  fromAlkalinityPco2,
  fromPhCarbon,
  scales,
];
