/** The working of un-ionised ammonia. */

import { DEFAULT_AMMONIA_UNCERTAINTY } from "../chemistry/ammonia.ts";
import { relativeUncertaintyNumber, U_CONSTANT } from "../chemistry/ammonia-uncertainty.ts";
import { ammoniaFraction, type PhScale, type Water } from "../chemistry/index.ts";
import { NBS_FLOOR } from "../chemistry/ph-scale.ts";
import { numberText } from "../units/number-text.ts";
import type { In, PracticalSalinity } from "../units/unit.ts";
import { type Explanation, parts, step } from "./explanation.ts";

export interface AmmoniaInputs {
  readonly ph: number;
  readonly phScale: PhScale;
  readonly t: number;
  readonly s: number;
  readonly water: Water;
  /** mg/L as N. */
  readonly tan: number;
  readonly tanRelative: number;
}

/** Of NH3 from total ammonia; steps are empty where the inputs allow no number. */
export function explainAmmonia({ ph, phScale, t, s, water, tan, tanRelative }: AmmoniaInputs): Explanation {
  const found = ammoniaFraction({
    ph: ph as In<"[pH]">,
    phScale,
    t: t as In<"Cel">,
    s: s as PracticalSalinity,
    water,
  });
  const isFresh = water === "fresh";
  const facts = {
    expression: [
      "f = 1 / (1 + 10^(pK - pH)), pK and pH on the same scale",
      "NH3-N = f x TAN-N;  NH3 = 17.031/14.007 x NH3-N",
      isFresh ? "pK = 0.09018 + 2729.92 / T" : "pK(T, S) of ammonium on the total scale, mol/kg of sea water",
    ],
    range: isFresh ? "S below 1, 0 to 50 °C, pH 6 to 10 (NBS)" : "S 0 to 40, -2 to 40 °C",
    source: isFresh
      ? "Emerson, Russo, Lund & Thurston 1975"
      : "Clegg & Whitfield 1995, eq. 18; pH scales Dickson 1990, Takahashi et al. 1982. Published methods differ by 15 to 18 %",
  };
  const { value: fraction, pk, phUsed } = found;
  if (fraction === null || pk === null || phUsed === null) return { ...facts, steps: [], uncertainty: [] };
  const { ph: uPh, t: uT, s: uS } = DEFAULT_AMMONIA_UNCERTAINTY;
  const floored = phScale === "nbs" && !isFresh ? Math.max(uPh, NBS_FLOOR) : uPh;
  const of = (dPh: number, dT: number, dS: number, dTan: number) =>
    relativeUncertaintyNumber(water, pk, fraction, t, s, dPh, dT, dS, dTan);
  const scaleStep = phUsed - ph;
  return {
    ...facts,
    steps: [
      ...(scaleStep === 0
        ? []
        : [
            step(
              `Difference from ${phScale.toUpperCase()} to ${isFresh ? "NBS" : "total"} scale`,
              scaleStep,
              "pH",
            ),
          ]),
      step(`pH on the ${isFresh ? "NBS" : "total"} scale`, phUsed),
      step("pK of ammonium", pk),
      step("Fraction that is NH3, f", 100 * fraction, "%"),
      step("Un-ionised ammonia as N", fraction * tan, "mg/L as N"),
      step("Un-ionised ammonia as NH3", (fraction * tan * 17.031) / 14.007, "mg/L as NH₃"),
    ],
    uncertainty: parts(true, [
      ["pH", `${floored} pH`, of(floored, 0, 0, 0)],
      ["Temperature", `${uT} °C`, of(0, uT, 0, 0)],
      ["Salinity", `${uS}`, isFresh ? null : of(0, 0, uS, 0)],
      [
        "Total ammonia, including its age",
        `${numberText(100 * tanRelative, 0)} % of the result`,
        tanRelative,
      ],
      ["Equilibrium constant", `${100 * U_CONSTANT} %`, U_CONSTANT * (1 - fraction)],
    ]),
  };
}
