import { describe, expect, it } from "vitest";
import {
  carbonateFromPhAlkalinity,
  FIELD_CARBONATE,
  oxygenPercent,
  oxygenPercentUncertainty,
  practicalSalinity,
  salinityUncertainty,
  totalGasPressure,
} from "#core/chemistry/index.ts";
import { figuresText } from "#core/units/figures-text.ts";
import { degC, hPa, meqPerL, mgPerL, mmHg, msPerCm, phUnits, psu } from "#core/units/index.ts";
import { explainAmmonia } from "#core/working/explain-ammonia.ts";
import { explainCarbonate } from "#core/working/explain-carbonate.ts";
import { explainGasPressure, explainOxygen } from "#core/working/explain-gas.ts";
import { explainGravity, explainOsmolality, explainSalinity } from "#core/working/explain-water.ts";
import type { Explanation } from "#core/working/explanation.ts";

const stepOf = ({ steps }: Explanation, name: RegExp): number => {
  const found = steps.find((each) => name.test(each.name));
  if (!found) throw new Error(`no step ${name} among ${steps.map((each) => each.name).join(", ")}`);
  return found.value;
};
const inQuadrature = ({ uncertainty }: Explanation) =>
  Math.sqrt(uncertainty.reduce((sum, part) => sum + part.adds ** 2, 0));

describe("the parts of an uncertainty add up in quadrature to the whole", () => {
  it("of salinity", () => {
    expect(inQuadrature(explainSalinity(50, 20, 0))).toBeCloseTo(salinityUncertainty(50, 20, 0) ?? 0, 12);
  });

  it("of oxygen", () => {
    const u = { dissolved: 0.1, t: 0.2, s: 0.5, pressure: 10 };
    expect(inQuadrature(explainOxygen(7, 20, 33, 1000, 10, false))).toBeCloseTo(
      oxygenPercentUncertainty(7, 20, 33, 1000, u) ?? 0,
      10,
    );
    const fresh = explainOxygen(7, 20, 0, 1000, 10, true);
    expect(fresh.uncertainty.map(({ name }) => name)).not.toContain("Salinity");
  });
});

describe("the steps lead to the result", () => {
  it("of oxygen: dissolved over saturation", () => {
    const percent = oxygenPercent(mgPerL(7), degC(20), psu(33), hPa(1000)).value ?? 0;
    const working = explainOxygen(7, 20, 33, 1000, 2, false);
    expect((100 * 7) / stepOf(working, /DOsat$/)).toBeCloseTo(percent, 10);
  });

  it("of total gas pressure: the parts make up the whole, as in Colt 1984", () => {
    // BP 750 mmHg, dP 30 mmHg, 25 °C, S 35, 7.0 mg/L, worked by hand from the printed equations: N2+Ar 596.87 mmHg and 103.94 %.
    const bp = (750 * 1013.25) / 760;
    const found = totalGasPressure({
      bp: hPa(bp),
      dp: mmHg(30),
      do: mgPerL(7),
      t: degC(25),
      s: psu(35),
    });
    const working = explainGasPressure(30, bp, 25, 35, found);
    const [barometer, excess] = [stepOf(working, /^Barometer/), stepOf(working, /^Excess/)];
    const gases =
      stepOf(working, /^Vapour/) + stepOf(working, /^Oxygen/) + stepOf(working, /^Nitrogen with argon p/);
    expect(barometer).toBeCloseTo(750, 9);
    expect(gases).toBeCloseTo(barometer + excess, 9);
    expect(stepOf(working, /^Nitrogen with argon p/)).toBeCloseTo(596.87, 1);
    expect(stepOf(working, /^Nitrogen with argon, of/)).toBeCloseTo(103.94, 1);
  });

  it("of ammonia: fraction from pK and pH, mass from fraction", () => {
    const working = explainAmmonia({
      ph: 8,
      phScale: "nbs",
      t: 25,
      s: 35,
      water: "marine",
      tan: 0.2,
      tanRelative: 0.1,
    });
    // NBS stands 0.137 above total at S 35 and 25 °C (Takahashi et al. 1982, computed with PyCO2SYS).
    expect(stepOf(working, /^Difference from NBS/)).toBeCloseTo(-0.137, 3);
    expect(stepOf(working, /^pH on the total/)).toBeCloseTo(7.863, 3);
    const fraction = stepOf(working, /^Fraction/) / 100;
    expect(stepOf(working, /as N$/)).toBeCloseTo(fraction * 0.2, 12);
    // NH3 over N by IUPAC weights.
    expect(stepOf(working, /^Un-ionised ammonia as NH3/) / stepOf(working, /as N$/)).toBeCloseTo(1.215892, 6);
  });

  it("of fresh ammonia: no step between scales", () => {
    const working = explainAmmonia({
      ph: 8,
      phScale: "nbs",
      t: 25,
      s: 0,
      water: "fresh",
      tan: 0.2,
      tanRelative: 0.1,
    });
    expect(working.steps.some(({ name }) => name.startsWith("Difference from"))).toBe(false);
    expect(working.source).toContain("Emerson");
  });

  it("of the carbonate system: species add up to carbon, saturation is the product over its constant", () => {
    const input = {
      ph: phUnits(8.1),
      phScale: "total" as const,
      alkalinity: meqPerL(2.35),
      t: degC(25),
      s: psu(35),
      water: "marine" as const,
    };
    const { value } = carbonateFromPhAlkalinity(input);
    if (value === null) throw new Error("no carbonate system");
    const working = explainCarbonate(input, value, "aragoniteSaturation", FIELD_CARBONATE);
    const species = stepOf(working, /^CO2$/) + stepOf(working, /^HCO3/) + stepOf(working, /^CO3/);
    expect(species).toBeCloseTo(stepOf(working, /^Dissolved inorganic/), 8);
    const calcium =
      stepOf(working, /^Calcium of sea salt/) / 40.078 / 1000 / (stepOf(working, /^Density/) / 1000);
    const product = calcium * stepOf(working, /^CO3/) * 1e-6;
    expect(product / 10 ** stepOf(working, /^Solubility of aragonite/)).toBeCloseTo(
      stepOf(working, /^Aragonite/),
      8,
    );
    // log10 Kara at S 35 and 25 °C (Mucci 1983, from memory).
    expect(stepOf(working, /^Solubility of aragonite/)).toBeCloseTo(-6.1883, 3);
  });

  it("of specific gravity and osmolality", () => {
    const gravity = explainGravity(35, 25, 25);
    // SG 25/25 of S 35 (EOS-80).
    expect(stepOf(gravity, /^Sea water/) / stepOf(gravity, /^Pure water/)).toBeCloseTo(1.02637, 5);
    const osmotic = explainOsmolality(35, 0.9019);
    expect(1000 * stepOf(osmotic, /^Moles/) * 0.9019).toBeCloseTo(1047, 0);
    expect(stepOf(explainSalinity(42.914, 15, 0), /^Conductivity ratio/)).toBe(1);
    expect(practicalSalinity(msPerCm(42.914), degC(14.9964)).value).toBeCloseTo(35, 3);
  });
});

describe("figures", () => {
  it.each([
    [0, "0"],
    [1 / 3, "0.333333"],
    [-2.5, "−2.5"],
    [1234567, "1234570"],
    [6.02e23, "6.02e+23"],
    [1e-6, "1e−6"],
    [Number.NaN, "not known"],
  ])("%d is written %s", (value, text) => {
    expect(figuresText(value)).toBe(text);
  });
});
