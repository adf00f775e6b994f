import { describe, expect, it } from "vitest";
import { convertPh, type PhScale } from "#core/chemistry/index.ts";
import { degC, phUnits, psu } from "#core/units/index.ts";

const convert = (from: PhScale, to: PhScale, s = 35, t = 25, ph = 8) =>
  convertPh(phUnits(ph), from, to, psu(s), degC(t));

describe("what limits the step between NBS and the other scales", () => {
  // Takahashi et al. 1982: S 20 to 40; below S 20 a ramp of this project.
  it.each([
    ["nbs", "total", 40, 25, "ok"],
    ["nbs", "total", 40.1, 25, "extrapolated"],
    ["total", "nbs", 40.1, 25, "extrapolated"],
    ["nbs", "sws", 35, 0, "ok"],
    ["nbs", "sws", 35, -0.1, "extrapolated"],
    ["free", "nbs", 35, 40, "ok"],
    ["free", "nbs", 35, 40.1, "extrapolated"],
    ["total", "sws", 45, 41, "ok"],
    ["sws", "free", 45, -1, "ok"],
    ["nbs", "nbs", 45, 41, "ok"],
  ] as const)("%s to %s at S %d and %d °C: %s", (from, to, s, t, status) => {
    expect(convert(from, to, s, t).status).toBe(status);
  });

  it("is said below S 20 where NBS takes part, and only there", () => {
    expect(convert("nbs", "total", 19.9).note).toMatch(/ramp/);
    expect(convert("total", "nbs", 19.9).note).toMatch(/ramp/);
    for (const found of [
      convert("nbs", "total", 20),
      convert("nbs", "total", 0),
      convert("total", "sws", 10),
      convert("nbs", "nbs", 10),
    ])
      expect(found.note).toBeNull();
  });
});

describe("a pH", () => {
  it("is 0 to 14, both included, and the same on its own scale", () => {
    expect(convert("total", "total", 35, 25, 0).value).toBe(0);
    expect(convert("nbs", "nbs", 35, 25, 14).value).toBe(14);
    expect(convert("nbs", "total", 35, 25, 14.01).note).toMatch(/outside 0 to 14/);
    expect(convert("nbs", "total", 35, 25, -0.01).note).toMatch(/outside 0 to 14/);
    expect(convert("nbs", "total", 35, 25, Number.NaN).note).toMatch(/not a finite number/);
  });
});
