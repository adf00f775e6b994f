/**
 * The numbered events of the fourteen invented days, each in numbers. The figures are the story's own; where physics bounds them
 * (dilution, heat, oxygen), the formula stands beside the check.
 */
import { describe, expect, test } from "vitest";
import { slopePerHour } from "#core/drift/rate.ts";
import { DAY, HOUR, MINUTE } from "#core/time/index.ts";
import { QUANTITIES, stateWord } from "#core/units/index.ts";
import { lightHours } from "#ingest/scenario/ordinary.ts";
import { benchBetween, eventsBetween } from "#ingest/scenario/records.ts";
import {
  ANCHOR,
  at,
  clock,
  firstPast,
  oxygenPercentAt,
  readingAt,
  salinityAt,
  scenario,
  seriesBetween,
} from "./pennacombe.ts";

const slope = (series: { at: number; value: number }[]) =>
  slopePerHour(
    series.map((r) => r.at),
    series.map((r) => r.value),
    (series.at(-1)?.at ?? 0) - (series[0]?.at ?? 0),
  ) ?? Number.NaN;
const near = (instant: number | undefined, moment: string, minutes: number) =>
  expect(Math.abs((instant ?? Number.NaN) - clock.instantOf(moment)) / MINUTE, moment).toBeLessThanOrEqual(
    minutes,
  );

describe("baselines", () => {
  test.each([
    ["kelp-gallery", "temperature", 15.2, 0.15],
    ["kelp-gallery", "ph", 8.02, 0.05],
    ["kelp-gallery", "dissolved_oxygen", 8.0, 0.13],
    ["kelp-gallery", "orp", 330, 10],
    ["kelp-gallery", "total_gas_pressure", 100.3, 0.25],
    ["ray-lagoon", "temperature", 25.4, 0.15],
    ["ray-lagoon", "dissolved_oxygen", 6.45, 0.12],
    ["reef-lagoon", "temperature", 25.6, 0.12],
    ["blackwater-creek", "temperature", 28.0, 0.15],
    ["blackwater-creek", "specific_conductance", 42, 1],
    ["blackwater-creek", "ph", 5.6, 0.08],
    ["rift-terrace", "specific_conductance", 620, 8],
    ["rift-terrace", "ph", 8.9, 0.06],
    ["jelly-ring", "total_gas_pressure", 100.4, 0.25],
    ["cold-den", "temperature", 9.6, 0.12],
    ["river-giants", "specific_conductance", 340, 5],
    ["quarantine-2", "ph", 7.9, 0.04],
  ])("%s %s stands at %f on D1", (system, id, value, tolerance) => {
    for (const hour of ["03:00", "09:00", "15:00", "21:00"]) {
      expect(Math.abs(at(`D1 ${hour}`, system, id) - value)).toBeLessThanOrEqual(tolerance);
    }
  });

  test.each([
    ["kelp-gallery", 33.5],
    ["ray-lagoon", 33.0],
    ["reef-lagoon", 35.0],
    ["jelly-ring", 32.5],
    ["cold-den", 31.8],
  ])("%s derives salinity %f from conductivity and temperature (PSS-78, UNESCO 44)", (system, value) => {
    expect(salinityAt("D1 12:00", system)).toBeCloseTo(value, 0);
    expect(Math.abs(salinityAt("D1 12:00", system) - value)).toBeLessThan(0.12);
  });

  test("Kelp Gallery holds 98 % of oxygen saturation (8.18 mg/L at 15.2 Cel, S 33.5, Benson & Krause in APHA 4500-O)", () => {
    expect(Math.abs(oxygenPercentAt("D4 01:35", "kelp-gallery", 33.5) - 98)).toBeLessThan(1.5);
  });

  test("the reef's pH runs from 8.08 at 07:00 to 8.27 at 18:00", () => {
    expect(at("D5 07:00", "reef-lagoon", "ph")).toBeCloseTo(8.08, 1);
    expect(Math.abs(at("D5 07:00", "reef-lagoon", "ph") - 8.08)).toBeLessThan(0.02);
    expect(Math.abs(at("D5 18:00", "reef-lagoon", "ph") - 8.27)).toBeLessThan(0.02);
  });

  test("River Giants falls by 0.1 Cel a day from 13.5 on D1", () => {
    expect(Math.abs(at("D1 00:30", "river-giants", "temperature") - 13.5)).toBeLessThan(0.12);
    const days = [1, 3, 5, 7, 9, 11, 13].map((day) => ({
      at: clock.instantOf(`D${day} 12:00`),
      value: at(`D${day} 12:00`, "river-giants", "temperature"),
    }));
    expect(slope(days) * 24).toBeCloseTo(-0.1, 1);
    expect(Math.abs(slope(days) * 24 + 0.1)).toBeLessThan(0.012);
  });
});

test("D2: three backwashes hold the flow at 130 for 27 min and bring the filters from 86 to 34 kPa", () => {
  const low = seriesBetween("D2 10:00", "D2 10:40", "kelp-gallery", "flow").filter((r) => r.value < 150);
  expect(low.length).toBe(27);
  expect(low[0]?.at).toBe(clock.instantOf("D2 10:05"));
  for (const reading of low) expect(Math.abs(reading.value - 130)).toBeLessThan(5);
  expect(Math.abs(at("D2 10:04", "kelp-gallery", "filter_pressure_difference", "filters") - 86)).toBeLessThan(
    2,
  );
  expect(Math.abs(at("D2 10:33", "kelp-gallery", "filter_pressure_difference", "filters") - 34)).toBeLessThan(
    2,
  );
});

test("D3: the stuck top-off adds 2,940 L in 8 h 10 min and thins 14.0 to 12.2", () => {
  const meter = (moment: string) => at(moment, "mangrove-walk", "make_up_volume", "make-up");
  expect(Math.abs(meter("D4 06:20") - meter("D3 22:10") - 2940)).toBeLessThan(15);
  expect(Math.abs(meter("D3 22:10") - meter("D2 22:10") - 260)).toBeLessThan(2);
  expect(Math.abs(salinityAt("D4 06:20", "mangrove-walk") - 12.2)).toBeLessThan(0.3);
  // Continuous dilution of a mixed tank, S0 exp(-Qt/V), with 2.94 m3 into 22 m3.
  const share = Math.exp(-2.94 / 22);
  expect(Math.abs(salinityAt("D4 06:20", "mangrove-walk") / share - 14.0)).toBeLessThan(0.2);
  expect(at("D4 04:00", "mangrove-walk", "level", "sump")).toBeGreaterThan(410);
});

test("D3 to D9: the octopus' pH probe drifts 0.045 a day to 7.75, then reads 8.01; the bench stays", () => {
  expect(Math.abs(at("D9 13:55", "cold-den", "ph") - 7.75)).toBeLessThan(0.02);
  expect(at("D6 13:55", "cold-den", "ph") - at("D9 13:55", "cold-den", "ph")).toBeCloseTo(3 * 0.045, 1);
  expect(readingAt(clock.instantOf("D9 14:10"), "cold-den", "ph")).toBeNull();
  expect(Math.abs(at("D9 14:30", "cold-den", "ph") - 8.01)).toBeLessThan(0.02);
  const bench = benchBetween(scenario, ANCHOR, ANCHOR, clock.instantOf("D15 00:00"))
    .filter((b) => b.system === "cold-den")
    .flatMap((b) => b.results.filter((r) => r.quantity === "ph"));
  expect(bench.length).toBe(14);
  for (const result of bench) expect(Math.abs(Number(result.value) - 8.01)).toBeLessThanOrEqual(0.021);
});

describe("D4: two pumps of Kelp Gallery trip", () => {
  const pump = (moment: string, point: string) =>
    stateWord(QUANTITIES.pump, at(moment, "kelp-gallery", "pump", point));
  test("states and flow step in the same minute and come back at 05:52", () => {
    expect(["pump-1", "pump-2", "pump-3"].map((p) => pump("D4 01:37", p))).toEqual([
      "running",
      "tripped",
      "tripped",
    ]);
    expect(pump("D4 01:36", "pump-2")).toBe("running");
    expect(pump("D4 05:52", "pump-2")).toBe("running");
    const change = seriesBetween("D4 01:36", "D4 01:39", "kelp-gallery", "pump", "pump-2");
    expect(change.map((r) => r.at)).toEqual([clock.instantOf("D4 01:37")]);
    expect(Math.abs(at("D4 01:36", "kelp-gallery", "flow") - 195)).toBeLessThan(6);
    expect(Math.abs(at("D4 01:37", "kelp-gallery", "flow") - 65)).toBeLessThan(6);
    expect(Math.abs(at("D4 05:52", "kelp-gallery", "flow") - 195)).toBeLessThan(6);
  });
  test("oxygen falls from 8.0 to 7.1 mg/L at 0.21 mg/L/h, 44 g an hour in 210 m3, and stays above 85 %", () => {
    expect(Math.abs(at("D4 01:37", "kelp-gallery", "dissolved_oxygen") - 8.0)).toBeLessThan(0.05);
    expect(Math.abs(at("D4 05:52", "kelp-gallery", "dissolved_oxygen") - 7.1)).toBeLessThan(0.1);
    const fall = slope(seriesBetween("D4 01:50", "D4 05:50", "kelp-gallery", "dissolved_oxygen"));
    expect(fall).toBeCloseTo(-0.21, 2);
    expect(Math.abs(-fall * 210 - 44)).toBeLessThan(2);
    expect(Math.abs(oxygenPercentAt("D4 05:50", "kelp-gallery", 33.5) - 88)).toBeLessThan(1.5);
  });
  test("contact ORP falls from 720 to 590 and passes 600; temperature gains 0.4 Cel", () => {
    expect(Math.abs(at("D4 01:36", "kelp-gallery", "orp", "contact-chamber") - 720)).toBeLessThan(12);
    expect(Math.abs(at("D4 05:52", "kelp-gallery", "orp", "contact-chamber") - 590)).toBeLessThan(8);
    const gain =
      at("D4 05:50", "kelp-gallery", "temperature") - at("D3 05:50", "kelp-gallery", "temperature");
    expect(Math.abs(gain - 0.4)).toBeLessThan(0.1);
  });
  test("the notes of the pump room were sent at 07:40", () => {
    const notes = eventsBetween(scenario, ANCHOR, clock.instantOf("D4 03:00"), clock.instantOf("D4 06:00"));
    expect(notes.filter((n) => n.sentAt === clock.instantOf("D4 07:40")).map((n) => n.at)).toEqual([
      clock.instantOf("D4 03:25"),
      clock.instantOf("D4 05:52"),
    ]);
  });
});

test("D9: the reef's heater relay sticks: +0.24 Cel/h to 27.9, then 0.04 Cel/h down until D12 13:40", () => {
  const rise = slope(seriesBetween("D9 18:45", "D10 04:05", "reef-lagoon", "temperature"));
  expect(rise).toBeCloseTo(0.24, 2);
  expect(Math.abs(at("D9 22:00", "reef-lagoon", "temperature") - 26.4)).toBeLessThan(0.1);
  near(firstPast(27.0, "D9 20:00", "D10 04:00", "reef-lagoon", "temperature"), "D10 00:20", 12);
  expect(Math.abs(at("D10 04:10", "reef-lagoon", "temperature") - 27.9)).toBeLessThan(0.06);
  const fall = slope(seriesBetween("D10 05:00", "D12 13:00", "reef-lagoon", "temperature"));
  expect(fall).toBeCloseTo(-0.04, 3);
  expect(Math.abs(at("D12 13:40", "reef-lagoon", "temperature") - 25.6)).toBeLessThan(0.06);
  expect(stateWord(QUANTITIES.heater, at("D9 23:30", "reef-lagoon", "heater", "plant-room"))).toBe("on");
  expect(stateWord(QUANTITIES.heater, at("D10 04:10", "reef-lagoon", "heater", "plant-room"))).toBe("off");
});

describe("D10: the fouled contact probe drives the ozone", () => {
  test("contact flat at 655, output at full, display 330 to 468 at about 28 mV/h", () => {
    const contact = seriesBetween("D10 04:00", "D10 09:30", "kelp-gallery", "orp", "contact-chamber");
    for (const reading of contact) expect(Math.abs(reading.value - 655)).toBeLessThanOrEqual(3);
    expect(at("D10 05:00", "kelp-gallery", "ozone_output", "contact-chamber")).toBe(100);
    const climb = slope(seriesBetween("D10 03:15", "D10 08:00", "kelp-gallery", "orp"));
    expect(Math.abs(climb - 28)).toBeLessThan(1);
    near(firstPast(400, "D10 03:00", "D10 08:00", "kelp-gallery", "orp"), "D10 05:29", 8);
    near(firstPast(430, "D10 03:00", "D10 08:00", "kelp-gallery", "orp"), "D10 06:38", 8);
    expect(Math.abs(at("D10 08:00", "kelp-gallery", "orp") - 468)).toBeLessThan(6);
  });
  test("ozone is off from 08:20 and the bench finds 0.09, 0.05, below 0.02 mg/L", () => {
    const word = stateWord(
      QUANTITIES.ozone_generator,
      at("D10 08:20", "kelp-gallery", "ozone_generator", "contact-chamber"),
    );
    expect(word).toBe("off");
    const tro = benchBetween(scenario, ANCHOR, clock.instantOf("D10 09:30"), clock.instantOf("D10 14:00"))
      .filter((b) => b.system === "kelp-gallery")
      .map((b) => `${b.results[0]?.qualifier ?? ""}${b.results[0]?.value}`);
    expect(tro).toEqual(["0.09", "0.05", "<0.02"]);
  });
});

test("D11: the acclimation pool is isolated 07:30 to 16:10: 12.5 to 13.1 Cel, 9.6 to 8.3 mg/L", () => {
  const valve = (moment: string) =>
    stateWord(QUANTITIES.valve, at(moment, "river-giants", "valve", "link-valve"));
  expect(["D11 07:29", "D11 07:30", "D11 16:09", "D11 16:10"].map(valve)).toEqual([
    "open",
    "isolated",
    "isolated",
    "open",
  ]);
  expect(Math.abs(at("D11 07:30", "giants-pool", "temperature") - 12.5)).toBeLessThan(0.12);
  expect(Math.abs(at("D11 16:10", "giants-pool", "temperature") - 13.1)).toBeLessThan(0.05);
  // 1 kW into 11 m3 of fresh water for 8 h 40 min: 0.86 Cel/h per kW and m3 (heat capacity of water, 4.18 kJ/kg/K).
  const heated = (0.86 / 11) * (8 + 40 / 60);
  expect(Math.abs(heated - 0.6)).toBeLessThan(0.1);
  expect(Math.abs(at("D11 07:45", "giants-pool", "dissolved_oxygen") - 9.6)).toBeLessThan(0.1);
  expect(Math.abs(at("D11 15:20", "giants-pool", "dissolved_oxygen") - 8.3)).toBeLessThan(0.05);
  expect(Math.abs(oxygenPercentAt("D11 15:20", "giants-pool", 0) - 79)).toBeLessThan(1.5);
  const together =
    at("D8 12:00", "giants-pool", "temperature") - at("D8 12:00", "river-giants", "temperature");
  expect(Math.abs(together)).toBeLessThan(0.06);
});

test("D11: 9 m3 of fill carry 0.12 mg/L chlorine, 0.007 in 160 m3, below detection", () => {
  const meter = (moment: string) => at(moment, "river-giants", "make_up_volume", "make-up");
  expect(Math.abs(meter("D11 12:30") - meter("D11 11:00") - 9000)).toBeLessThan(60);
  const chlorine = benchBetween(scenario, ANCHOR, clock.instantOf("D11 11:00"), clock.instantOf("D11 14:00"))
    .flatMap((b) => b.results)
    .filter((r) => r.quantity === "total_chlorine");
  expect(chlorine.map((r) => `${r.qualifier ?? ""}${r.value}`)).toEqual(["0.12", "<0.02"]);
  expect((0.12 * 9) / 160).toBeLessThan(chlorine[1]?.detectionLimit ?? 0);
});

test("D11 20:10: the pup pool's 3 kW heater gives 0.66 Cel/h in 4 m3, 25.4 to 25.9", () => {
  const series = seriesBetween("D11 20:20", "D11 20:52", "pup-pool", "temperature");
  expect(series.length).toBe(32);
  // 3 kW into 4 m3 of sea water: 3600 kJ / (1023 kg/m3 x 3.99 kJ/kg/K) = 0.88 Cel/h per kW and m3.
  expect(Math.abs(slope(series) - (3 * 0.88) / 4)).toBeLessThan(0.04);
  expect(Math.abs(at("D11 20:10", "pup-pool", "temperature") - 25.4)).toBeLessThan(0.06);
  expect(Math.abs(at("D11 20:52", "pup-pool", "temperature") - 25.86)).toBeLessThan(0.05);
});

test("D12: gas pressure of Jelly Ring climbs 5.1 %/h from 100.4 to 106.4 and passes its three steps in turn", () => {
  const rise = slope(seriesBetween("D12 16:30", "D12 17:31", "jelly-ring", "total_gas_pressure"));
  expect(rise).toBeCloseTo(5.14, 0);
  expect(Math.abs(rise - 5.14)).toBeLessThan(0.2);
  const passes = (limit: number) =>
    firstPast(limit, "D12 16:20", "D12 18:00", "jelly-ring", "total_gas_pressure");
  near(passes(101.5), "D12 16:33", 5);
  near(passes(102.5), "D12 16:45", 5);
  near(passes(103.5), "D12 16:56", 5);
  expect(Math.abs(at("D12 18:30", "jelly-ring", "total_gas_pressure") - 106.4)).toBeLessThan(0.2);
  expect(Math.abs(at("D12 22:00", "jelly-ring", "total_gas_pressure") - 101.5)).toBeLessThan(0.2);
  expect(Math.abs(at("D12 18:30", "jelly-ring", "dissolved_oxygen") - 8.6)).toBeLessThan(0.05);
  expect(at("D12 18:30", "jelly-ring", "flow") / 4).toBeCloseTo(0.94, 1);
});

test("D12 and D13: Blackwater Creek softens from 42 to 29 uS/cm and is warmed into 28 to 30 Cel", () => {
  expect(Math.abs(at("D12 13:00", "blackwater-creek", "specific_conductance") - 42)).toBeLessThan(1.2);
  expect(Math.abs(at("D12 15:30", "blackwater-creek", "specific_conductance") - 29)).toBeLessThan(1.2);
  for (const hour of ["08:00", "12:00", "20:00"]) {
    expect(at(`D14 ${hour}`, "blackwater-creek", "temperature")).toBeGreaterThan(28.3);
    expect(at(`D14 ${hour}`, "blackwater-creek", "temperature")).toBeLessThan(29.5);
  }
});

test("D13: Rift Terrace's temperature stands at 26.40 for 7 h, to the last digit", () => {
  const flat = seriesBetween("D13 13:30", "D13 20:30", "rift-terrace", "temperature");
  expect(new Set(flat.map((r) => r.value))).toEqual(new Set([26.4]));
  expect(flat.length).toBe(7 * 12);
  const before = seriesBetween("D13 06:30", "D13 13:30", "rift-terrace", "temperature");
  expect(new Set(before.map((r) => r.value)).size).toBeGreaterThan(20);
});

test("D8 to D9: the night water of the birth stays in its figures", () => {
  const night = (id: string) => seriesBetween("D8 18:00", "D9 09:20", "ray-lagoon", id).map((r) => r.value);
  const within = (values: number[], low: number, high: number) => {
    expect(Math.min(...values)).toBeGreaterThanOrEqual(low);
    expect(Math.max(...values)).toBeLessThanOrEqual(high);
  };
  within(night("temperature"), 25.28, 25.52);
  within(night("ph"), 7.97, 8.03);
  within(night("dissolved_oxygen"), 6.3, 6.54);
  within(night("flow"), 85, 95);
});

test("D7 and D8: Kelp Gallery's lights run one hour early with the right length; D9 is on time", () => {
  const lit = (day: number) => {
    const on = seriesBetween(`D${day} 02:30`, `D${day + 1} 00:00`, "kelp-gallery", "illuminance").filter(
      (r) => r.value > 450,
    );
    const first = on[0]?.at ?? Number.NaN;
    const last = on.at(-1)?.at ?? Number.NaN;
    return { hours: (last - first) / HOUR, middle: (first + last) / 2 - clock.instantOf(`D${day} 13:00`) };
  };
  const plan = scenario.plans.find((p) => p.code === "san-diego-light");
  if (plan?.kind !== "light") throw new Error("no light plan");
  for (const [day, shift] of [
    [6, 0],
    [7, -60],
    [8, -60],
    [9, 0],
    [10, 0],
  ] as const) {
    const { hours, middle } = lit(day);
    const planned = lightHours(plan.monthlyHours, clock.dayOfD1 + day - 1);
    expect(Math.abs(hours - planned), `length of D${day}`).toBeLessThan(0.5);
    expect(Math.abs(middle / MINUTE - shift), `phase of D${day}`).toBeLessThanOrEqual(15);
  }
});

describe("bench", () => {
  const series = (system: string, id: string) =>
    benchBetween(scenario, ANCHOR, ANCHOR, clock.instantOf("D15 00:00"))
      .filter((b) => b.system === system)
      .flatMap((b) => b.results)
      .filter((r) => r.quantity === id);
  test("D1: two slips were put right within the hour, and both values are kept", () => {
    const slips = benchBetween(scenario, ANCHOR, ANCHOR, ANCHOR + DAY).flatMap((b) =>
      b.results.flatMap((r) =>
        r.correction ? [{ sampled: b.at, ...r, ...r.correction, typed: r.value }] : [],
      ),
    );
    expect(slips.map((s) => [s.quantity, s.typed, s.value])).toEqual([
      ["nitrate", "13.3", "3.0"],
      ["calcium", "452", "425"],
    ]);
    for (const slip of slips) expect(slip.at - slip.sampled).toBeLessThan(HOUR);
    // NO3 is 4.427 times NO3-N by molar mass.
    expect(13.3 / 4.427).toBeCloseTo(3.0, 1);
  });
  test("reef alkalinity falls 0.08 meq/L a day, then gains 0.10 by each of two doses of 320 g", () => {
    const alkalinity = series("reef-lagoon", "alkalinity").map((r) => Number(r.value));
    expect(alkalinity.slice(0, 8)).toEqual([2.9, 2.82, 2.74, 2.66, 2.58, 2.5, 2.6, 2.7]);
    // 84.0 g NaHCO3 per m3 raise alkalinity by 1 meq/L (molar mass); 320 g in 38 m3.
    expect(320 / 84 / 38).toBeCloseTo(0.1, 2);
  });
  test("quarantine: ammonia, nitrite and copper follow the story", () => {
    const values = (id: string) => series("quarantine-2", id).map((r) => Number(r.value));
    expect(values("total_ammonia").slice(-9)).toEqual([0.15, 0.22, 0.31, 0.45, 0.6, 0.78, 0.9, 0.71, 0.42]);
    expect(values("nitrite").at(-9)).toBe(0.01);
    expect(values("nitrite").at(-1)).toBe(0.66);
    expect(values("copper").slice(0, 2)).toEqual([0.13, 0.13]);
    // Dosed for 4.0 m3, true volume 3.1 m3.
    expect((0.1 * 4.0) / 3.1).toBeCloseTo(0.13, 2);
  });
  test("the count of rays: 4 and 4 by night, 5 at 06:50, 4 after the pup has moved", () => {
    const counts = benchBetween(scenario, ANCHOR, clock.instantOf("D8 20:00"), clock.instantOf("D9 13:00"))
      .filter((b) => b.system === "ray-lagoon")
      .flatMap((b) => b.results.filter((r) => r.quantity === "animal_count").map((r) => r.value));
    expect(counts).toEqual(["4", "4", "5", "4"]);
  });
});
