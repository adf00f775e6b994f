/** How long is left, since when, and when it is over: told against water whose course is known. */
import { afterEach, expect, test } from "vitest";
import type { HabitatAnswer } from "#contract/habitat.ts";
import type { HandoverDraft } from "#contract/handover.ts";
import type { OvernightView } from "#contract/views.ts";
import { HOUR, MINUTE } from "#core/time/instant.ts";
import { type Course, daily, ramp, type WordCourse } from "./courses.ts";
import { type ProbeDescription, type SiteDescription, wallTime } from "./description.ts";
import { Night } from "./play.ts";

const ZONE = "Atlantic/Reykjavik";
const h = (text: string) => wallTime(text, ZONE);
const STOP = h("2026-02-11 01:30");
const FALL = 1.1;
const LIMIT = 6.6;

const probe = (course: Course | WordCourse, more: Partial<ProbeDescription> = {}): ProbeDescription => ({
  gateway: "hall",
  every: 5 * MINUTE,
  decimals: 2,
  course,
  ...more,
});

interface Given {
  readonly oxygen?: Course;
  readonly pump?: WordCourse;
  readonly gas?: Course;
}
const site = ({ oxygen, pump, gas }: Given): SiteDescription => ({
  code: "skerry",
  name: "Skerry House",
  zone: ZONE,
  latitude: 64,
  longitude: -22,
  elevation: 10,
  gateways: { hall: {} },
  systems: {
    "lumpfish-tank": {
      name: "Lumpfish Tank",
      kind: "cold marine",
      water: "marine",
      volume: 45,
      points: {
        display: {
          probes: {
            temperature: probe((at) => 7 + daily(at, 0.05), { critical: true, noise: 0.02 }),
            salinity: probe(() => 34, { noise: 0.02 }),
            dissolved_oxygen: probe(oxygen ?? ((at) => 9.2 + daily(at, 0.04)), {
              critical: true,
              noise: 0.01,
            }),
            total_gas_pressure: probe(gas ?? (() => 100.4), { noise: 0.03, decimals: 1 }),
          },
        },
        "pump-1": { role: "equipment", probes: { pump: probe(pump ?? (() => "running")) } },
      },
      bands: {
        temperature: [5, 9, 3, 11],
        dissolved_oxygen: [8, 11, LIMIT, null],
        total_gas_pressure: [null, 101.5, null, 103],
      },
    },
    "spare-tank": {
      name: "Spare Tank",
      kind: "cold marine",
      water: "marine",
      volume: 5,
      points: {
        display: { probes: { temperature: probe((at) => (at < STOP ? 7 : 14), { critical: true }) } },
      },
      bands: { temperature: [5, 9, 3, 11] },
    },
  },
});

let night: Night;
afterEach(() => night.close());
const open = async (given: Given) => {
  night = await Night.open(site(given), { from: "2026-02-09 16:00" });
};
const overnight = () => night.get<OvernightView>("/overnight");
const rowsOf = ({ groups }: OvernightView) =>
  groups.flatMap(({ items }) => items.flatMap(({ others = [], ...first }) => [first, ...others]));

test("with the pumps off the time to the action limit holds the truth from the first time it is told, and is never past", async () => {
  const begins = STOP + 10 * MINUTE;
  await open({
    pump: (at) => (at >= STOP ? "tripped" : "running"),
    oxygen: (at) => 9.2 + daily(at, 0.04) - ramp(at, begins, FALL),
  });
  const reached = begins + ((9.2 - LIMIT) / FALL) * HOUR;
  await night.to(STOP + 10 * MINUTE);
  let told = 0;
  while (night.now < reached - 20 * MINUTE) {
    await night.to(night.now + 10 * MINUTE);
    const view = await overnight();
    const byId = new Map(view.findings.map((row) => [row.id, row]));
    for (const { finding, left } of rowsOf(view)) {
      if (byId.get(finding)?.quantity !== "dissolved_oxygen" || left.kind !== "reaches") continue;
      told++;
      expect(left).toMatchObject({ target: "limit", value: LIMIT });
      expect(left.from, `${(night.now - begins) / MINUTE} min`).toBeLessThanOrEqual(
        reached - night.now + 6 * MINUTE,
      );
      expect(left.to ?? Number.POSITIVE_INFINITY).toBeGreaterThanOrEqual(reached - night.now - 6 * MINUTE);
      expect(left.to ?? 0).toBeLessThan(12 * HOUR);
      expect(left.from).toBeGreaterThanOrEqual(0);
    }
  }
  expect(told).toBeGreaterThan(5);
  const page = await night.page("/overnight");
  expect(page).not.toMatch(/not moving towards its limit|not expected to reach/);
  expect(page).toContain("Without mixing the probe may not be at the worst place.");
});

test("before a fall can be measured the animals' mass says how long oxygen lasts, once all of them have one", async () => {
  await open({ pump: (at) => (at >= STOP ? "tripped" : "running") });
  await night.to("2026-02-11 01:00");
  await night.post(
    "/profiles",
    { species: ["california-sheephead"], reason: "they move in today" },
    "curator",
  );
  const moved = await night.post<HabitatAnswer>(
    "/systems/lumpfish-tank/residents",
    { species: "california-sheephead", stage: "adult", count: 12, note: "from quarantine" },
    "curator",
  );
  await night.to("2026-02-11 01:45");
  expect(await night.page("/overnight")).toContain("A circulation pump has stopped");
  expect(await night.page("/overnight")).not.toContain("by the animals' mass");
  await night.post(
    `/residents/${moved.id}/correct`,
    { massKg: 60, massSource: "weighed at move-in", reason: "mass was missing" },
    "curator",
  );
  await night.to("2026-02-11 01:50");
  // (9.2 - 6.6) mg/L in 45 m3 are 117 g; 60 kg use 3 to 9 g an hour.
  expect(await night.page("/overnight")).toMatch(
    /Lumpfish Tank: 1[23]\.\d to (38|39|4\d)\.\d h until oxygen reaches 6\.60 mg\/L, by the animals' mass\./,
  );
});

test("a fall from 01:30 to 04:55 is told from then to then, with the lowest of all of it", async () => {
  await open({ oxygen: (at) => 9.2 + daily(at, 0.04) - ramp(at, STOP, 0.7, h("2026-02-11 04:55")) });
  await night.to("2026-02-11 08:30");
  const fast = (await overnight()).findings.find(
    (row) => row.kind === "too fast" && row.quantity === "dissolved_oxygen",
  );
  expect(Math.abs((fast?.began ?? 0) - STOP)).toBeLessThanOrEqual(15 * MINUTE);
  expect(Math.abs((fast?.ended ?? 0) - h("2026-02-11 04:55"))).toBeLessThanOrEqual(20 * MINUTE);
});

test("the worst of an excursion that eased while its delay ran is its worst", async () => {
  const dip = (at: number) => (at >= STOP && at < STOP + 10 * MINUTE ? 1.9 : at >= STOP ? 1.5 : 0);
  await open({ oxygen: (at) => 9.2 + daily(at, 0.04) - dip(at) });
  await night.to("2026-02-11 03:00");
  const out = (await overnight()).findings.find(
    (row) => row.kind === "out of band" && row.quantity === "dissolved_oxygen",
  );
  expect(out?.evidence.worst).toBeCloseTo(7.3, 1);
  expect(out?.evidence.worstAt).toBeLessThan(STOP + 15 * MINUTE);
});

test("gas pressure that came back below its edge is over, and what nobody acknowledged is counted alike everywhere until somebody does", async () => {
  await open({ gas: (at) => (at < STOP ? 100.4 : at < STOP + 3 * HOUR ? 103.4 : 101.1) });
  await night.to("2026-02-11 06:30");
  const gas = (await overnight()).findings.filter((row) => row.quantity === "total_gas_pressure");
  for (const row of gas) expect(row.ended, row.says).not.toBeNull();
  await night.post(
    "/systems/spare-tank",
    {
      closed: new Date(night.now).toISOString(),
      reason: "drained for repair",
    },
    "administrator",
  );
  await night.to("2026-02-13 09:00");
  const view = await overnight();
  const draft = await night.get<HandoverDraft>("/handovers/draft");
  const standing = (await night.get<{ alarms: { state: string; system: string }[] }>("/alarms")).alarms;
  expect(standing.length).toBeGreaterThan(0);
  expect(new Set(standing.map(({ system }) => system))).toEqual(new Set(["lumpfish-tank"]));
  expect(view.summary.unanswered).toBe(standing.length);
  expect(draft.unanswered).toHaveLength(standing.length);
  const page = await night.page("/overnight");
  expect(page).not.toMatch(/No unacknowledged alarms|all alarms acknowledged|Spare Tank/);
  expect(page).toContain("Over, not acknowledged");
});
