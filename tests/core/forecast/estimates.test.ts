import { expect, test } from "vitest";
import { oxygenLeftAtFall, oxygenLeftByMass } from "#core/forecast/estimates.ts";

// 0.21 mg/L an hour in 210 m3: 44.1 g/h, five hours from 8.0 to 6.95 mg/L; arithmetic.
test("oxygen lasts as long as the measured fall lets it", () => {
  const measured = oxygenLeftAtFall({ oxygen: 8, limit: 6.95, volume: 210, fall: 0.21 });
  expect(measured?.gramsPerHour).toBeCloseTo(44.1, 6);
  expect(measured?.hours).toBeCloseTo(5, 6);
});

test("at its limit nothing is left, without a fall it lasts, without a volume nothing is said", () => {
  expect(oxygenLeftAtFall({ oxygen: 6, limit: 6.95, volume: 10, fall: 0.2 })?.hours).toBe(0);
  expect(oxygenLeftAtFall({ oxygen: 8, limit: 7, volume: 10, fall: 0 })?.hours).toBe(
    Number.POSITIVE_INFINITY,
  );
  expect(oxygenLeftAtFall({ oxygen: 8, limit: 7, volume: 0, fall: 0.2 })).toBeNull();
  expect(oxygenLeftAtFall({ oxygen: 8, limit: 7, volume: 10, fall: -1 })).toBeNull();
});

test("before a fall is measured, the animals' mass says between when and when: worked by hand", () => {
  // (8 - 6) mg/L in 30 m3 are 60 g; 40 kg use 2 to 6 g an hour.
  expect(oxygenLeftByMass({ oxygen: 8, limit: 6, volume: 30, mass: 40 })).toEqual({
    earliest: expect.closeTo(10, 9),
    latest: expect.closeTo(30, 9),
  });
  expect(oxygenLeftByMass({ oxygen: 5.9, limit: 6, volume: 30, mass: 40 })).toBeNull();
  expect(oxygenLeftByMass({ oxygen: 8, limit: 6, volume: 30, mass: 0 })).toBeNull();
});
