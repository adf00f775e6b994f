import { describe, expect, it } from "vitest";
import { QUANTITIES } from "#core/units/index.ts";
import { slippedUnit } from "#core/units/unit-slip.ts";

describe("a jump by the ratio of two units", () => {
  // Ratios by definition: 1 °F = 5/9 K from 32 °F; 1 mg = 1,000 µg; 1 meq/L = 2.804 °dKH (1 °dKH = 10 mg/L CaO, CaO 56.077 g/mol);
  // nitrate 62.004 and nitrogen 14.007 g/mol (IUPAC abridged weights).
  it.each([
    ["temperature", 24, 75.2, "[degF]"],
    ["temperature", 75.1, 24, "[degF]"],
    ["conductivity", 53, 53_000, "uS/cm"],
    ["copper", 0.15, 149, "ug/L"],
    ["chlorine", 0.03, 30, "ug{Cl2}/L"],
    ["alkalinity", 2.5, 7.01, "[dKH]"],
    ["nitrate", 10, (10 * 62.004) / 14.007, "mg{NO3}/L"],
  ] as const)("%s from %d to %d is named: %s", (quantity, from, to, unit) => {
    expect(slippedUnit(QUANTITIES[quantity], from, to)?.unit).toBe(unit);
  });

  it.each([
    ["temperature", 15, 17],
    ["temperature", 24, 60],
    // 1 mg/L as N is 1.29 mg/L as NH4: ammonia of water moves by that much.
    ["total_ammonia", 1, 1.288],
    ["ph", 8.1, 81],
    ["orp", 330, 0],
    ["salinity", 34, 30],
    ["dissolved_oxygen", 8, 6],
  ] as const)("%s from %d to %d is none", (quantity, from, to) => {
    expect(slippedUnit(QUANTITIES[quantity], from, to)).toBeNull();
  });
});
