/** The working of oxygen percent and of total gas pressure. */
import { vapourMmHgNumber } from "../chemistry/gas-pressure.ts";
import {
  FIELD_OXYGEN,
  type GasPressure,
  type OxygenUncertainty,
  oxygenPercentUncertainty,
} from "../chemistry/index.ts";
import { oxygenSaturationNumber, vapourPressureNumber } from "../chemistry/oxygen.ts";
import { type Explanation, parts, step } from "./explanation.ts";

const HPA_PER_ATM = 1013.25;
const NONE: OxygenUncertainty = { dissolved: 0, t: 0, s: 0, pressure: 0 };

/** Of percent of saturation: dissolved mg/L, t °C, s practical salinity, pressure hPa at the station. */
export function explainOxygen(
  dissolved: number,
  t: number,
  s: number,
  pressure: number,
  uPressure: number,
  isFresh: boolean,
): Explanation {
  const vapour = vapourPressureNumber(t, s);
  const of = (u: Partial<OxygenUncertainty>, equation = 0) =>
    oxygenPercentUncertainty(dissolved, t, s, pressure, { ...NONE, ...u }, equation);
  return {
    expression: [
      "DOsat = C1(t, S) (P - u)(1 - h P) / ((1 - u)(1 - h)), P and u in atm",
      "percent = 100 DO / DOsat",
    ],
    range: "0 to 40 °C, S 0 to 40, 507 to 1115 hPa at the station",
    source: "Benson & Krause 1984; vapour pressure Green & Carritt 1967; USGS OWQ memorandum 2011.03",
    steps: [
      step("Station pressure P", pressure / HPA_PER_ATM, "atm"),
      step("Vapour pressure u", vapour, "atm"),
      step("Saturation at one atmosphere C1", oxygenSaturationNumber(t, s, HPA_PER_ATM), "mg/L"),
      step("Saturation here DOsat", oxygenSaturationNumber(t, s, pressure), "mg/L"),
    ],
    uncertainty: parts(false, [
      ["Dissolved oxygen", `${FIELD_OXYGEN.dissolved} mg/L`, of({ dissolved: FIELD_OXYGEN.dissolved })],
      ["Temperature", `${FIELD_OXYGEN.t} °C`, of({ t: FIELD_OXYGEN.t })],
      ["Salinity", `${FIELD_OXYGEN.s}`, isFresh ? null : of({ s: FIELD_OXYGEN.s })],
      ["Station pressure", `${uPressure} hPa`, of({ pressure: uPressure })],
      ["Equation", "0.1 % of saturation", oxygenPercentUncertainty(dissolved, t, s, pressure, NONE)],
    ]),
  };
}

/** Of total gas pressure: the tensiometer's excess in mmHg, the barometer in hPa. */
export function explainGasPressure(
  excess: number,
  barometer: number,
  t: number,
  s: number,
  found: GasPressure,
): Explanation {
  const mmHg = (barometer * 760) / HPA_PER_ATM;
  const known = (name: string, value: number | null, unit: string) =>
    value === null ? [] : [step(name, value, unit)];
  return {
    expression: [
      "TGP % = 100 (BP + dP) / BP",
      "p(N2+Ar) = BP + dP - pO2 - pH2O;  (N2+Ar) % = 100 p(N2+Ar) / (0.79018 (BP - pH2O))",
    ],
    range:
      "0 to 40 °C, S 0 to 40, 500 to 1100 hPa, excess -100 to 400 mmHg; about 1 % in nitrogen with argon",
    source: "Colt 1984; Weiss 1970; Weiss & Price 1980",
    steps: [
      step("Barometer BP", mmHg, "mmHg"),
      step("Excess dP", excess, "mmHg"),
      step("Vapour pressure pH2O", vapourMmHgNumber(t, s), "mmHg"),
      ...known("Oxygen pO2", found.oxygenPressure, "mmHg"),
      ...known("Nitrogen with argon p(N2+Ar)", found.nitrogenArgonPressure, "mmHg"),
      ...known("Nitrogen with argon, of saturation", found.nitrogenArgonPercent, "%"),
    ],
    uncertainty: [],
  };
}
