import { describe, expect, test } from "vitest";
import { dilutedTo, heatingRate, oxygenLeft, oxygenLeftAtFall } from "#core/forecast/estimates.ts";

// Heat capacity of sea water near 15 degC and S 35: 3.99 kJ/kg/K (from memory, Millero and others 1973), of water 4.18; density 1025 and 998.
describe("heat", () => {
  test.each([
    [1, 1, "marine", 3_600 / (3.99 * 1_025)],
    [3, 4, "marine", 0.66],
    [1, 1, "fresh", 3_600 / (4.18 * 998)],
    [12, 38, "marine", 0.278],
  ] as const)("%d kW in %d m3 of %s water", (kilowatts, volume, water, expected) => {
    expect(heatingRate(kilowatts, volume, water)).toBeCloseTo(expected, 2);
  });
  test("no water, no rate", () => {
    expect(heatingRate(1, 0, "fresh")).toBeNaN();
  });
});

describe("oxygen", () => {
  // 300 kg at 135 and 33 kg at 100 mg/kg/h in 210 m3: 43.8 g/h, five hours from 8.0 to 6.95 mg/L; arithmetic.
  test("what the animals breathe and what is measured agree", () => {
    const perKg = (300 * 135 + 33 * 100) / 333;
    const told = oxygenLeft({ oxygen: 8, limit: 6.95, volume: 210, biomass: 333, perKg });
    expect(told?.gramsPerHour).toBeCloseTo(43.8, 6);
    expect(told?.hours).toBeCloseTo(5.03, 2);
    const measured = oxygenLeftAtFall({ oxygen: 8, limit: 6.95, volume: 210, fall: 0.21 });
    expect(measured?.gramsPerHour).toBeCloseTo(44.1, 6);
    expect(measured?.hours).toBeCloseTo(5, 6);
  });
  test("at its limit nothing is left, without animals it lasts, without a volume nothing is said", () => {
    expect(oxygenLeft({ oxygen: 6, limit: 6.95, volume: 10, biomass: 5 })?.hours).toBe(0);
    expect(oxygenLeft({ oxygen: 8, limit: 7, volume: 10, biomass: 0 })?.hours).toBe(Number.POSITIVE_INFINITY);
    expect(oxygenLeft({ oxygen: 8, limit: 7, volume: 0, biomass: 5 })).toBeNull();
    expect(oxygenLeftAtFall({ oxygen: 8, limit: 7, volume: 10, fall: -1 })).toBeNull();
  });
});

// Washing out of a mixed tank: 37 % of the old water is left after one turnover; arithmetic.
test("a mixed tank is washed out by the exponential", () => {
  expect(dilutedTo(1, 0, 10, 10, 1)).toBeCloseTo(Math.exp(-1), 12);
  expect(dilutedTo(33, 0, 0.36, 22, 8.17)).toBeCloseTo(28.9, 1);
});
