import { expect, test } from "vitest";
import { oxygenLeftAtFall } from "#core/forecast/estimates.ts";

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
