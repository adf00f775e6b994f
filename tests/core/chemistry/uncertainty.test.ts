import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type CarbonatePart,
  carbonateFromPhAlkalinity,
  carbonateUncertainty,
  oxygenPercent,
  oxygenPercentUncertainty,
  practicalSalinity,
  salinityUncertainty,
} from "#core/chemistry/index.ts";
import { degC, hPa, meqPerL, mgPerL, msPerCm, phUnits, psu } from "#core/units/index.ts";

const DRAWS = 4000;

/** Normal draws from a seed (mulberry32, then Box and Muller), so that a failing case can be run again. */
function normals(seed: number): () => number {
  let state = seed;
  const uniform = () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  return () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}

/** Standard deviation of what `draw` gives over many draws. */
function spread(draw: () => number): number {
  const values = Array.from({ length: DRAWS }, draw);
  const mean = values.reduce((sum, value) => sum + value, 0) / DRAWS;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (DRAWS - 1));
}

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const known = (value: number | null): number => {
  if (value === null) throw new Error("no number where one was expected");
  return value;
};
// A standard deviation of 4000 draws scatters by 1.1 %; five of those, and a little curvature.
const AGREES = 0.06;

describe("first-order uncertainty against Monte Carlo", () => {
  it("of practical salinity", () => {
    fc.assert(
      fc.property(between(5, 55), between(2, 32), fc.integer(), (c, t, seed) => {
        const u = { conductivityRelative: 0.01, t: 0.2 };
        const normal = normals(seed);
        const drawn = spread(() =>
          known(practicalSalinity(msPerCm(c * (1 + 0.01 * normal())), degC(t + 0.2 * normal())).value),
        );
        const first = known(salinityUncertainty(c, t, 0, u, 0));
        expect(Math.abs(first / drawn - 1)).toBeLessThan(AGREES);
      }),
      { numRuns: 15 },
    );
  });

  it("of percent of saturation", () => {
    fc.assert(
      fc.property(
        between(2, 14),
        between(2, 32),
        between(4, 38),
        between(850, 1040),
        fc.integer(),
        (o, t, s, p, seed) => {
          const u = { dissolved: 0.1, t: 0.3, s: 0.5, pressure: 5 };
          const normal = normals(seed);
          const drawn = spread(() =>
            known(
              oxygenPercent(
                mgPerL(o + 0.1 * normal()),
                degC(t + 0.3 * normal()),
                psu(s + 0.5 * normal()),
                hPa(p + 5 * normal()),
              ).value,
            ),
          );
          const first = known(oxygenPercentUncertainty(o, t, s, p, u, 0));
          expect(Math.abs(first / drawn - 1)).toBeLessThan(AGREES);
        },
      ),
      { numRuns: 15 },
    );
  });

  it.each(["pco2", "aragoniteSaturation", "calciteSaturation"] as const)("of %s", (part: CarbonatePart) => {
    fc.assert(
      fc.property(
        between(7.6, 8.3),
        between(1.8, 3.5),
        between(8, 30),
        between(25, 38),
        fc.integer(),
        (ph, ta, t, s, seed) => {
          const u = { ph: 0.03, alkalinityRelative: 0.03, t: 0.3, s: 0.5, calciumRelative: 0 };
          const normal = normals(seed);
          const of = (dPh: number, dTa: number, dT: number, dS: number) => ({
            ph: phUnits(ph + dPh),
            phScale: "total" as const,
            alkalinity: meqPerL(ta * (1 + dTa)),
            t: degC(t + dT),
            s: psu(s + dS),
            water: "marine" as const,
          });
          const drawn = spread(() => {
            const moved = of(0.03 * normal(), 0.03 * normal(), 0.3 * normal(), 0.5 * normal());
            return Math.log(known(system(carbonateFromPhAlkalinity(moved).value)[part]));
          });
          const first = known(carbonateUncertainty(of(0, 0, 0, 0), part, u, 0));
          expect(Math.abs(first / drawn - 1)).toBeLessThan(AGREES);
        },
      ),
      { numRuns: 8 },
    );
  });
});

function system<T>(value: T | null): T {
  if (value === null) throw new Error("no carbonate system where one was expected");
  return value;
}

const SEA = {
  ph: phUnits(8.1),
  phScale: "total" as const,
  alkalinity: meqPerL(2.3 * 1.02334),
  t: degC(25),
  s: psu(35),
  water: "marine" as const,
};
const ONLY_PH = { ph: 0.05, alkalinityRelative: 0, t: 0, s: 0, calciumRelative: 0 };

describe("how the carbonate system answers to its inputs", () => {
  // Differences computed with PyCO2SYS 1.8.3.4 at S 35, 25 °C, pH 8.1: pH +0.05 is -13.5 % in pCO2 and +8.9 % in saturation, +2 % of
  // alkalinity +2.1 % in both.
  it("a pH error of 0.05 is about 14 % of pCO2 and 9 % of saturation", () => {
    expect(known(carbonateUncertainty(SEA, "pco2", ONLY_PH, 0))).toBeCloseTo(-Math.log(1 - 0.135), 2);
    expect(known(carbonateUncertainty(SEA, "aragoniteSaturation", ONLY_PH, 0))).toBeCloseTo(
      Math.log(1.089),
      2,
    );
  });

  it("an alkalinity error of 2 % is 2.1 % of both", () => {
    const u = { ...ONLY_PH, ph: 0, alkalinityRelative: 0.02 };
    for (const part of ["pco2", "aragoniteSaturation"] as const)
      expect(known(carbonateUncertainty(SEA, part, u, 0))).toBeCloseTo(0.021, 3);
  });

  it("calcium counts in saturation one for one and not in pCO2", () => {
    const u = { ...ONLY_PH, ph: 0, calciumRelative: 0.05 };
    expect(carbonateUncertainty(SEA, "calciteSaturation", u, 0)).toBeCloseTo(0.05, 12);
    expect(carbonateUncertainty(SEA, "pco2", u, 0)).toBe(0);
  });

  it("an electrode on ordinary buffers counts as no better than 0.05 in sea water, and as it is in fresh water", () => {
    const fine = { ...ONLY_PH, ph: 0.01 };
    const nbs = { ...SEA, phScale: "nbs" as const };
    expect(carbonateUncertainty(nbs, "pco2", fine, 0)).toBe(carbonateUncertainty(nbs, "pco2", ONLY_PH, 0));
    const fresh = { ...nbs, s: psu(0), ph: phUnits(7.5), water: "fresh" as const };
    expect(known(carbonateUncertainty(fresh, "pco2", fine, 0))).toBeLessThan(
      known(carbonateUncertainty(fresh, "pco2", ONLY_PH, 0)) / 4,
    );
  });

  it("widens with the age of a result only where that result counts", () => {
    const older = { ...ONLY_PH, alkalinityRelative: 0.14 };
    const fresh = { ...ONLY_PH, alkalinityRelative: 0.03 };
    expect(known(carbonateUncertainty(SEA, "pco2", older))).toBeGreaterThan(
      known(carbonateUncertainty(SEA, "pco2", fresh)),
    );
  });
});

describe("of a field probe", () => {
  it("salinity of ocean water is known to about 0.4", () => {
    // 1 % of conductivity and 0.1 °C. Common practice, no source, for the errors; the sum follows from PSS-78.
    expect(known(salinityUncertainty(53.07, 25, 0))).toBeCloseTo(0.4, 1);
  });
});

describe("uncertainties of any numbers at all", () => {
  it("are finite and not negative, or null", () => {
    const any = fc.oneof(fc.double(), fc.double({ min: 0, max: 45, noNaN: true }));
    fc.assert(
      fc.property(any, any, any, any, (a, b, c, d) => {
        const found = [
          salinityUncertainty(a, b, 0),
          oxygenPercentUncertainty(a, b, c, d * 30),
          carbonateUncertainty(
            { ph: phUnits(a / 3), alkalinity: meqPerL(b / 10), t: degC(c), s: psu(d) },
            "pco2",
          ),
        ];
        for (const u of found) if (u !== null) expect(u).toSatisfy((n: number) => n >= 0 && n < Infinity);
      }),
      { numRuns: 2000 },
    );
  });
});
