/**
 * What resumes after a silence has not stepped where its plan, its usual pace or what its rate rules permit explains the change. The water is
 * generated: the principal lunar tide, 12.42 h (Pugh 1987, Tides, Surges and Mean Sea-Level, from memory), salinity 8 to 18.
 */
import { describe, expect, test } from "vitest";
import type { StreamFacts } from "#core/evaluate/facts.ts";
import type { QuantityId } from "#core/units/quantity.ts";
import { steadyRandom } from "#tests/bench/bench-row.ts";
import { folded, type Given, stream } from "./folded.ts";

const [MINUTE, HOUR, DAY] = [60_000, 3_600_000, 86_400_000];
const T0 = Date.UTC(2026, 2, 2);
const PERIOD = 12.42 * HOUR;
const GAP_FROM = T0 + 3 * DAY;

const tide = (mean: number, amplitude: number) => (at: number) =>
  mean + amplitude * Math.cos((2 * Math.PI * (at - T0)) / PERIOD);

/** Four days of a reading every five minutes; none from `from` for `minutes`; from then on `step` higher. */
function course(of: (at: number) => number, from: number, minutes: number, step = 0, noise = 0.02): Given[] {
  const next = steadyRandom(7);
  const given: Given[] = [];
  for (let at = T0; at < T0 + 4 * DAY; at += 5 * MINUTE) {
    const spread = noise * (next() + next() + next() - 1.5);
    if (at >= from && at < from + minutes * MINUTE) continue;
    given.push({ stream: 1, at, value: Number((of(at) + spread + (at < from ? 0 : step)).toFixed(3)) });
  }
  return given;
}
const found = (quantity: QuantityId, given: readonly Given[], more: Partial<StreamFacts> = {}) =>
  folded({ streams: [stream(1, quantity, more)] }, given).findings.map(({ kind, began }) => [kind, began]);

/** Twelve moments of one tide, flood, ebb and both slacks among them. */
const MOMENTS = Array.from({ length: 12 }, (_, i) => GAP_FROM + Math.round(i * 12.42) * 5 * MINUTE);

describe("a tide that nobody planned", () => {
  const conductivity = tide(20, 7.5);

  test.each([10, 30, 60, 115])("has not stepped after %d minutes without readings", (minutes) => {
    for (const from of MOMENTS)
      expect(found("conductivity", course(conductivity, from, minutes)), `${from}`).toEqual([]);
  });

  test("has stepped where it comes back further from itself than a tide goes", () => {
    for (const from of MOMENTS.slice(0, 4)) {
      const began = from + 30 * MINUTE;
      expect(found("conductivity", course(conductivity, from, 30, 6))).toEqual([["stepped", began]]);
      expect(found("conductivity", course(conductivity, from, 30, -6))).toEqual([["stepped", began]]);
    }
  });
});

describe("a planned tide", () => {
  const salinity = tide(13, 5);
  const plan = {
    system: "pool",
    quantity: "salinity",
    shape: { kind: "tide", mean: 13, amplitude: 5, periodMs: PERIOD, highAt: T0 },
    validFrom: 0,
    validTo: null,
  } as const;
  const steps = (given: readonly Given[]) =>
    folded({ streams: [stream(1, "salinity")], plans: [plan] }, given).findings.filter(
      (finding) => finding.kind === "stepped",
    );

  test("is held against its plan across a silence", () => {
    for (const from of MOMENTS) expect(steps(course(salinity, from, 30))).toEqual([]);
  });

  test("and half a salinity unit beside its plan after half an hour is a step all the same", () => {
    for (const from of MOMENTS.slice(0, 4)) {
      const [finding] = steps(course(salinity, from, 30, 0.5));
      expect(finding).toMatchObject({ began: from + 30 * MINUTE, severity: "action" });
    }
  });
});

describe("water that stands still", () => {
  const still = () => 25;

  test("may come back as far off as its rate rules permit: 0.2 °C an hour", () => {
    expect(found("temperature", course(still, GAP_FROM, 90, 0.25))).toEqual([]);
  });

  test("further off it has stepped, and the reading after the first bears it out", () => {
    const stepped = folded(
      { streams: [stream(1, "temperature")] },
      course(still, GAP_FROM, 30, 0.8),
    ).findings.find((finding) => finding.kind === "stepped");
    expect(stepped).toMatchObject({ began: GAP_FROM + 30 * MINUTE, severity: "action" });
    expect(stepped?.evidence).toMatchObject({ alone: 0 });
  });

  test("with none missing a step is judged as ever", () => {
    expect(found("temperature", course(still, GAP_FROM, 0, 0.6))).toContainEqual(["stepped", GAP_FROM]);
  });
});

test("a change of light that these hours bring each day is no step after a silence over it", () => {
  // Dark until eight, then within the hour to the level of the day: faster than the pace of the rest of the day allows for.
  const lit = (at: number) => {
    const hour = ((at - T0) % DAY) / HOUR;
    return 8.05 + 0.24 * (Math.min(1, Math.max(0, hour - 8)) - Math.min(1, Math.max(0, (hour - 12) / 11)));
  };
  const from = T0 + 3 * DAY + 7.75 * HOUR;
  const steps = found("ph", course(lit, from, 90, 0, 0.004)).filter(([kind]) => kind === "stepped");
  expect(steps).toEqual([]);
});
