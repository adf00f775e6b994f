import { describe, expect, it } from "vitest";
import { ammoniumPkNumber } from "#core/chemistry/ammonium.ts";
import { ammoniaSensitivity } from "#core/chemistry/index.ts";

describe("how strongly NH3 answers to salinity", () => {
  it("at no salt at all is taken from the salty side: there is no other", () => {
    const [t, f] = [25, 0.05];
    const pk = ammoniumPkNumber("marine", t, 0);
    const forward = (ammoniumPkNumber("marine", t, 0.01) - pk) / 0.01;
    // d ln f / dS = -ln 10 (1 - f) dpK/dS, from f = 1/(1 + 10^(pK - pH)).
    expect(ammoniaSensitivity("marine", pk, f, t, 0).s).toBeCloseTo(-Math.LN10 * 0.95 * forward, 12);
  });

  it("a little above no salt is taken from both sides", () => {
    const [t, s, f] = [25, 0.012, 0.05];
    const pk = ammoniumPkNumber("brackish", t, s);
    const both =
      (ammoniumPkNumber("brackish", t, s + 0.005) - ammoniumPkNumber("brackish", t, s - 0.005)) / 0.01;
    expect(ammoniaSensitivity("brackish", pk, f, t, s).s).toBeCloseTo(-Math.LN10 * 0.95 * both, 12);
  });
});
