/** Quiet days stay quiet: inside every target band and slower than every rate rule, but for what the story tells. */

import { describe, expect, test } from "vitest";
import { oxygenPercent, practicalSalinity } from "#core/chemistry/index.ts";
import { slopePerHour } from "#core/drift/rate.ts";
import { rateRulesFor } from "#core/drift/rate-rules.ts";
import { planAt } from "#core/habitat/index.ts";
import { guessedRole } from "#core/set-up/guessed-role.ts";
import { DAY } from "#core/time/index.ts";
import { degC, hPa, mgPerL, msPerCm, psu, quantity } from "#core/units/index.ts";
import { planShape } from "#ingest/scenario/ordinary.ts";
import { type Cadence, readingsBetween } from "#ingest/scenario/readings.ts";
import { ANCHOR, clock, scenario } from "./pennacombe.ts";

const ONE_ATMOSPHERE = hPa(1013.25);

/** Values by "system/point/quantity", salinity and oxygen saturation derived beside the measured ones. */
function* judged(from: number, to: number, cadence: Cadence) {
  const latest = new Map<string, number>();
  for (const { stream, at, value } of readingsBetween(scenario, ANCHOR, from, to, cadence)) {
    const { system, point, quantity: id } = scenario.streams[stream] as (typeof scenario.streams)[number];
    latest.set(`${system}/${id}`, value);
    yield { at, system, point, id, value };
    const t = latest.get(`${system}/temperature`);
    if (t === undefined || point !== "display") continue;
    if (id === "conductivity") {
      const salinity = practicalSalinity(msPerCm(value), degC(t)).value;
      if (salinity === null) throw new Error(`no salinity in ${system}`);
      latest.set(`${system}/salinity`, salinity);
      yield { at, system, point, id: "salinity", value: salinity };
    }
    if (id === "dissolved_oxygen") {
      const salinity = psu(latest.get(`${system}/salinity`) ?? 0);
      const percent = oxygenPercent(mgPerL(value), degC(t), salinity, ONE_ATMOSPHERE).value;
      if (percent === null) throw new Error(`no oxygen saturation in ${system}`);
      yield { at, system, point, id: "oxygen_saturation", value: percent };
    }
  }
}

const bands = new Map<string, typeof scenario.bands>();
for (const band of scenario.bands) {
  const key = `${band.system}/${band.point}/${band.quantity}`;
  bands.set(key, [...(bands.get(key) ?? []), band]);
}

function outside(from: number, to: number, cadence: Cadence) {
  const left = new Map<string, { first: number; last: number }>();
  let compared = 0;
  for (const { at, system, point, id, value } of judged(from, to, cadence)) {
    for (const band of bands.get(`${system}/${point}/${id}`) ?? []) {
      if (band.from !== undefined && at < clock.instantOf(band.from)) continue;
      if (band.to !== undefined && at >= clock.instantOf(band.to)) continue;
      compared++;
      if ((band.low === null || value >= band.low) && (band.high === null || value <= band.high)) continue;
      const key = `${system}/${point}/${id}`;
      const known = left.get(key);
      left.set(key, { first: known?.first ?? at, last: at });
    }
  }
  return { left, compared };
}

const nothing = new Map<string, unknown>();

describe("outside the story", () => {
  test("the seventeen days before D1 leave no band but for the backwash of D-12", () => {
    const { left, compared } = outside(clock.instantOf("D-16 00:00"), ANCHOR, "five-minute");
    expect(compared).toBeGreaterThan(300_000);
    expect([...left.keys()]).toEqual(["kelp-gallery/display/flow"]);
    const flow = left.get("kelp-gallery/display/flow");
    expect(flow?.first).toBe(clock.instantOf("D-12 10:05"));
    expect(flow?.last).toBeLessThan(clock.instantOf("D-12 10:32"));
  });

  test("the year before, hour by hour, leaves no band", () => {
    const { left, compared } = outside(ANCHOR - 382 * DAY, ANCHOR - 17 * DAY, "hourly");
    expect(compared).toBeGreaterThan(500_000);
    expect(left).toEqual(nothing);
  });

  test("the weeks after D14 leave no band", () => {
    const from = clock.instantOf("D15 00:00");
    expect(outside(from, from + 21 * DAY, "five-minute").left).toEqual(nothing);
  });

  test("River Giants keeps to its season plan, Mangrove Walk to its tide", () => {
    const shapes = ["giants-season", "mangrove-tide"].map((code) => {
      const plan = scenario.plans.find((p) => p.code === code);
      const shape = plan && planShape(plan, clock);
      if (!plan || !shape || plan.kind === "light" || plan.kind === "steps")
        throw new Error(`no plan ${code}`);
      return { plan, shape };
    });
    let compared = 0;
    for (const { at, system, id, value } of judged(ANCHOR - 60 * DAY, ANCHOR - 17 * DAY, "hourly"))
      for (const { plan, shape } of shapes)
        if (plan.systems.includes(system) && plan.quantity === id) {
          compared++;
          expect(Math.abs(value - planAt(shape, at))).toBeLessThan(plan.within);
        }
    expect(compared).toBeGreaterThan(2500);
  });

  test("four days as sampled pass no rate rule", () => {
    const from = clock.instantOf("D16 00:00");
    const volumes = new Map(scenario.systems.map((s) => [s.code, s.volumeM3]));
    const series = new Map<string, { at: number[]; value: number[] }>();
    const tooFast: string[] = [];
    let judgedWindows = 0;
    for (const { at, system, point, id, value } of judged(from, from + 4 * DAY, "as-sampled")) {
      // A tide system's salinity is judged against its plan, above.
      if (system === "mangrove-walk" && id === "salinity") continue;
      const rules = rateRulesFor(id, guessedRole(point), volumes.get(system) ?? 0);
      if (rules.length === 0) continue;
      const key = `${system}/${point}/${id}`;
      const own = series.get(key) ?? { at: [], value: [] };
      series.set(key, own);
      own.at.push(at);
      own.value.push(value);
      for (const rule of rules) {
        const slope = slopePerHour(own.at, own.value, rule.windowMs, Math.max(0, own.at.length - 400));
        if (slope === null) continue;
        judgedWindows++;
        const passes =
          (rule.direction !== "falling" && slope >= rule.perHour) ||
          (rule.direction !== "rising" && slope <= -rule.perHour);
        if (passes) tooFast.push(`${key} ${rule.name} ${slope}`);
      }
    }
    expect(judgedWindows).toBeGreaterThan(50_000);
    expect(tooFast).toEqual([]);
  });

  test("no number stands still for two hours, and all lie in the registry's plausible span", () => {
    const from = clock.instantOf("D16 00:00");
    const last = new Map<number, { value: number; since: number }>();
    for (const { stream, at, value } of readingsBetween(
      scenario,
      ANCHOR,
      from,
      from + 2 * DAY,
      "as-sampled",
    )) {
      const known = quantity(scenario.streams[stream]?.quantity ?? "");
      if (known?.kind !== "number") continue;
      if (value < known.plausible[0] || value > known.plausible[1]) throw new Error(`${known.id} ${value}`);
      const before = last.get(stream);
      if (!before || before.value !== value) last.set(stream, { value, since: at });
      else if (at - before.since > DAY / 12)
        throw new Error(`${known.id} of stream ${stream} stands at ${value}`);
    }
    expect(last.size).toBeGreaterThan(100);
  });
});

test("the fourteen days leave their bands only where the story says so", () => {
  const { left } = outside(ANCHOR, clock.instantOf("D15 00:00"), "as-sampled");
  expect([...left.keys()].sort()).toEqual([
    "cold-den/display/ph",
    "giants-pool/display/oxygen_saturation",
    "jelly-ring/display/total_gas_pressure",
    "kelp-gallery/contact-chamber/orp",
    "kelp-gallery/display/flow",
    "kelp-gallery/display/orp",
    "kelp-gallery/display/oxygen_saturation",
    "kelp-gallery/sump/level",
    "mangrove-walk/sump/level",
    "reef-lagoon/display/temperature",
  ]);
});
