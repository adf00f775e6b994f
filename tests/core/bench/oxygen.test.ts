/**
 * Source: USGS OWQ technical memorandum 2011.03, dissolved-oxygen solubility tables after Benson & Krause: fresh water of 20 °C at
 * 760 mmHg holds 9.09 mg/L (from memory; the tables are held in full in tests/published).
 */
import { expect, test } from "vitest";
import { oxygenBothWays } from "#core/bench/oxygen.ts";

const water = { temperature: 20, salinity: 0, barometer: 1013.25, elevation: 0 };

test("oxygen is said in mg/L and percent, whichever was typed, with the air that was used", () => {
  const saturated = oxygenBothWays({ quantity: "dissolved_oxygen", value: 9.09 }, water);
  expect(saturated).toContain("9.09 mg/L = 100 % of saturation");
  expect(saturated).toContain("1013 hPa (barometer)");
  expect(oxygenBothWays({ quantity: "oxygen_saturation", value: 50 }, water)).toMatch(/^4\.5\d mg\/L = 50 %/);
});

test("without a barometer the standard air of the height is taken and named", () => {
  const high = oxygenBothWays(
    { quantity: "dissolved_oxygen", value: 9.09 },
    { ...water, barometer: null, elevation: 1000 },
  );
  // US Standard Atmosphere 1976: 898.7 hPa at 1000 m.
  expect(high).toContain("899 hPa (standard pressure at 1000 m)");
  expect(high).toContain("113 %");
});
