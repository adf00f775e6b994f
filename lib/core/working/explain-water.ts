/** The working of salinity, conductance, density, specific gravity, osmolality, freezing point and redox potential. */
import { densityNumber } from "../chemistry/density.ts";
import { FIELD_CONDUCTIVITY, salinityUncertainty } from "../chemistry/index.ts";
import { T68_PER_T90 } from "../chemistry/water.ts";
import { type Explanation, parts, step } from "./explanation.ts";

/** Of practical salinity: c mS/cm, t °C, p dbar; `explainUncertainty` adds what conductivity and temperature contribute. */
export function explainSalinity(c: number, t: number, p: number): Explanation {
  const { conductivityRelative, t: uT } = FIELD_CONDUCTIVITY;
  return {
    expression: [
      "R = C / C(35, 15 °C, 0);  Rt = R / (Rp rt)",
      "S = sum a_i Rt^(i/2) + (t68 - 15)/(1 + 0.0162 (t68 - 15)) sum b_i Rt^(i/2) + low-salinity terms",
    ],
    range: "S 0 to 42, -2 to 35 °C, 0 to 10000 dbar",
    source: "Fofonoff & Millard 1983 (UNESCO 44); Hill, Dauphinee & Woods 1986 below S 2",
    steps: [
      step("Temperature on IPTS-68, t68", T68_PER_T90 * t, "°C"),
      step("Conductivity ratio R, over 42.914 mS/cm", c / 42.914),
      ...(p === 0 ? [] : [step("Pressure above atmospheric", p, "dbar")]),
    ],
    uncertainty: parts(false, [
      [
        "Conductivity",
        `${100 * conductivityRelative} % of the reading`,
        salinityUncertainty(c, t, p, { conductivityRelative, t: 0 }, 0),
      ],
      ["Temperature", `${uT} °C`, salinityUncertainty(c, t, p, { conductivityRelative: 0, t: uT }, 0)],
      ["Equation", "the scale itself", salinityUncertainty(c, t, p, { conductivityRelative: 0, t: 0 })],
    ]),
  };
}

export function explainConductance(alpha: number, t: number): Explanation {
  return {
    expression: ["K25 = C / (1 + a (t - 25))"],
    range:
      "a rule of thumb for 0 to 40 °C; for sea salt no constant a is right (up to 2 % off between 5 and 35 °C)",
    source: "definition; Standard Methods 2510 (from memory)",
    steps: [step("Compensation a", alpha, "per °C"), step("Divisor 1 + a (t - 25)", 1 + alpha * (t - 25))],
    uncertainty: [],
  };
}

const EOS80_RANGE = "S 0 to 42, -2 to 40 °C, at atmospheric pressure; good to 0.01 kg/m³";
const EOS80_SOURCE = "Millero & Poisson 1981 (EOS-80, UNESCO 44)";

export function explainDensity(t: number): Explanation {
  return {
    expression: ["rho = rho(0, t) + S A(t) + S^1.5 B(t) + 4.8314e-4 S²"],
    range: EOS80_RANGE,
    source: EOS80_SOURCE,
    steps: [
      step("Temperature on IPTS-68, t68", T68_PER_T90 * t, "°C"),
      step("Pure water, rho(0, t)", densityNumber(0, t), "kg/m³"),
    ],
    uncertainty: [],
  };
}

export function explainGravity(s: number, t: number, tRef: number): Explanation {
  return {
    expression: ["SG(t / tref) = rho(S, t) / rho(0, tref)"],
    range: EOS80_RANGE,
    source: EOS80_SOURCE,
    steps: [
      step(`Sea water at ${t} °C`, densityNumber(s, t), "kg/m³"),
      step(`Pure water at ${tRef} °C`, densityNumber(0, tRef), "kg/m³"),
    ],
    uncertainty: [],
  };
}

export function explainOsmolality(s: number, osmoticCoefficient: number): Explanation {
  const absolute = (s * 35.16504) / 35;
  return {
    expression: ["SA = S 35.16504/35;  m = SA / (31.4038218 (1 - SA/1000))", "osmolality = 1000 m phi(S, t)"],
    range: "S 0.2 to 42, 0 to 35 °C",
    source:
      "IOC, SCOR & IAPSO 2010 (TEOS-10); osmotic coefficient fitted to it by this project, at most 0.0024 off",
    steps: [
      step("Reference salinity SA", absolute, "g/kg"),
      step("Moles of ions m", absolute / (31.4038218 * (1 - absolute / 1000)), "mol/kg"),
      step("Osmotic coefficient phi", osmoticCoefficient),
    ],
    uncertainty: [],
  };
}

export function explainRedox(reference: number, electrode: string): Explanation {
  return {
    expression: ["Eh = ORP + Eref(t)"],
    range:
      "the electrode's printed table, linear between its points; ±5 mV at best, ±50 mV between probes (common practice, no source)",
    source: "reference potentials as printed by sensor makers; USGS National Field Manual 6.5",
    steps: [step(`Reference potential of ${electrode}`, reference, "mV")],
    uncertainty: [],
  };
}
