import { describe, expect, it } from "vitest";
import { conductivityFromSalinity, practicalSalinity } from "#core/chemistry/index.ts";
import { dbar, degC, msPerCm, psu } from "#core/units/index.ts";

const salinity = (c: number, t: number, p = 0) => practicalSalinity(msPerCm(c), degC(t), dbar(p));
const conductivity = (s: number, t: number, p = 0) => conductivityFromSalinity(psu(s), degC(t), dbar(p));

// The range of PSS-78: S to 42, -2 to 35 °C, 0 to 10000 dbar (UNESCO 44).
describe("the edges of the practical salinity scale belong to it", () => {
  it.each([
    [-2, 0, "ok"],
    [-2.01, 0, "extrapolated"],
    [1, 0, "ok"],
    [35, 0, "ok"],
    [35.01, 0, "extrapolated"],
    [10, 10_000, "ok"],
    [10, 10_001, "extrapolated"],
    [10, -0.01, "extrapolated"],
  ])("at %d °C and %d dbar: %s", (t, p, status) => {
    expect(salinity(30, t, p).status).toBe(status);
    expect(conductivity(30, t, p).status).toBe(status);
  });

  it("S 42 is inside, a little more is not", () => {
    expect(conductivity(42, 20).status).toBe("ok");
    expect(conductivity(42.001, 20).status).toBe("extrapolated");
  });
});

describe("the reason names what is wrong, and nothing else", () => {
  it.each([
    [Number.NaN, 20, 0, /not a finite number/],
    [30, Number.NaN, 0, /not a finite number/],
    [30, 20, Number.NaN, /not a finite number/],
    [-1, 20, 0, /conductivity cannot be negative/],
    [30, 120, 0, /no liquid water to measure/],
    [199, 5, 0, /too high for sea water/],
  ])("salinity of %d mS/cm at %d °C, %d dbar", (c, t, p, note) => {
    expect(salinity(c, t, p)).toMatchObject({ value: null, status: "invalid" });
    expect(salinity(c, t, p).note).toMatch(note);
  });

  it.each([
    [Number.NaN, 20, 0, /not a finite number/],
    [35, 120, 0, /no liquid water to measure/],
    [35, 20, Number.NaN, /not a finite number/],
    [121, 20, 0, /salinity is outside/],
    [120, 99, 0, /salinity is outside/],
  ])("conductivity of S %d at %d °C, %d dbar", (s, t, p, note) => {
    expect(conductivity(s, t, p)).toMatchObject({ value: null, status: "invalid" });
    expect(conductivity(s, t, p).note).toMatch(note);
  });

  it("water without salt has exactly no conductivity, and the other way round", () => {
    expect(conductivity(0, 20).value).toBe(0);
    expect(salinity(0, 20).value).toBe(0);
  });
});
