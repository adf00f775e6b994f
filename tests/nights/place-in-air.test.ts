/** Lost water: a place that runs dry, by a probe of salt or by its level. Invented water; the rule is that nothing read in air is of the water. */
import { afterEach, describe, expect, test } from "vitest";
import type { AlarmsView } from "#contract/answers.ts";
import { MINUTE } from "#core/time/instant.ts";
import { approach, type Course, daily, ramp } from "./courses.ts";
import { type PointDescription, type SiteDescription, wallTime } from "./description.ts";
import { Night } from "./play.ts";

const ZONE = "Pacific/Auckland";
const h = (text: string) => wallTime(text, ZONE);
const DRY = h("2026-05-12 01:12");
const FULL = h("2026-05-12 04:30");

const inAir = (wet: Course, air: number): Course => {
  return (at) => (at >= DRY && at < FULL ? air : wet(at));
};

function site(sump: PointDescription): SiteDescription {
  return {
    code: "shingle-bay",
    name: "Shingle Bay",
    zone: ZONE,
    latitude: -41.3,
    longitude: 174.8,
    elevation: 6,
    gateways: { north: {}, south: { delay: 20_000 } },
    systems: {
      "kelp-column": {
        name: "Kelp Column",
        kind: "temperate marine, sevengills",
        water: "marine",
        volume: 380,
        points: {
          display: {
            probes: {
              temperature: {
                gateway: "south",
                every: 5 * MINUTE,
                critical: true,
                noise: 0.02,
                decimals: 2,
                course: (at) => 13.4 + daily(at, 0.1),
              },
            },
          },
          sump,
        },
        bands: {
          temperature: [12, 15, 10, 17],
          salinity: [33, 36, 31, 37],
          dissolved_oxygen: [7.4, 10, 6.4, 12],
          ph: [7.8, 8.2, 7.6, 8.4],
          "sump/level": [380, 520, 320, 600],
        },
      },
    },
  };
}
const probe = (course: Course, more: { noise?: number; decimals?: number; every?: number } = {}) => ({
  gateway: "north",
  every: 5 * MINUTE,
  noise: 0.02,
  decimals: 2,
  course,
  ...more,
});
/** What hangs in the sump: out of the water it reads the room. */
const WATER = {
  temperature: probe(inAir((at) => 13.5 + daily(at, 0.1), 19.4)),
  ph: probe(
    inAir((at) => 8.02 + daily(at, 0.03), 7.1),
    { noise: 0.005 },
  ),
  dissolved_oxygen: probe(
    inAir((at) => 8.3 + daily(at, 0.1), 9.2),
    { noise: 0.03 },
  ),
};

let night: Night;
afterEach(() => night.close());
const open = async (sump: PointDescription) => {
  night = await Night.open(site(sump), { from: "2026-05-10 12:00" });
};
const alarms = async () => (await night.get<AlarmsView>("/alarms")).alarms;
const ofWater = (quantity: string) =>
  ["temperature", "ph", "dissolved_oxygen", "salinity"].includes(quantity);

describe("a sump that runs dry", () => {
  test("is one event where its probe of salt says so: nothing else of that place rings or stands as water", async () => {
    await open({ probes: { ...WATER, salinity: probe(inAir((at) => 34.6 + daily(at, 0.05), 0.1)) } });
    const said: string[] = [];
    await night.to("2026-05-12 00:30");
    night.lookEvery(30 * MINUTE, async () => {
      said.push(await night.page("/systems/kelp-column"), await night.page("/overnight"));
    });
    await night.to("2026-05-12 02:00");
    const [first, ...others] = (await alarms()).filter(({ state }) => state === "UNACK");
    expect(first?.finding).toMatchObject({
      kind: "exposed",
      rule: "air",
      quantity: "salinity",
      began: h("2026-05-12 01:15"),
    });
    expect(others).toEqual([]);
    const overnight = await night.page("/overnight");
    expect(overnight).toContain(
      "reads as if in air (0.1) since 01:15, what other probes there read is set aside",
    );

    await night.to("2026-05-12 07:00");
    const all = said.join("\n");
    expect(all).not.toMatch(/Salinity \(sump\) 0\.1\d*, below|lowest 0\.1/);
    expect(all).not.toMatch(/pH \(sump\) 7\.1\d, below its band \(7\.80\) since 01:\d\d(?!.*withdrawn)/);
    expect(all).not.toMatch(/Temperature \(sump\) 19\.\d °C, above/);
    const kept = (
      await night.get<{ findings: { kind: string; ended: number | null; evidence: object }[] }>("/overnight")
    ).findings;
    for (const finding of kept)
      if (finding.kind !== "exposed") expect(finding).toMatchObject({ evidence: { withdrawn: "air" } });
    expect(kept.find(({ kind }) => kind === "exposed")?.ended).toBe(h("2026-05-12 04:30"));
    // The sump is full again and every probe of it counts again.
    expect(await night.page("/systems/kelp-column")).toMatch(/Temperature sump\n.*\n13\.\d °C\nIn band/);
  });

  test("is known by its level and the probes that left their course with it, where no probe of salt hangs there", async () => {
    const level = (at: number) =>
      at >= FULL ? 450 : 450 + Math.max(-260, ramp(at, DRY - 20 * MINUTE, -700));
    await open({ probes: { ...WATER, level: probe(level, { noise: 2, decimals: 0, every: MINUTE }) } });
    await night.to("2026-05-12 03:30");
    const standing = (await alarms()).filter(({ state }) => state === "UNACK");
    expect(standing.map(({ quantity }) => quantity)).toEqual(["level"]);
    const page = await night.page("/systems/kelp-column");
    expect(page).toContain("the place it measures at is out of the water");
    expect(page).toMatch(/Water level \(sump\) 19\d mm, below its band \(380\)/);
    const ended = (await alarms()).filter(({ quantity }) => ofWater(quantity));
    for (const { finding } of ended)
      expect(finding?.says).toContain("withdrawn: the probe was out of the water");
    await night.to("2026-05-12 06:00");
    expect(await night.page("/systems/kelp-column")).not.toContain("out of the water");
  });

  test("stays in the water where the level says otherwise and a probe of salt there reads sea", async () => {
    const level = (at: number) => (at >= DRY ? 100 : 450);
    const falls = (at: number) => 8.3 - approach(at, DRY, 3, 60 * MINUTE);
    await open({
      probes: {
        level: probe(level, { noise: 1, decimals: 0, every: MINUTE }),
        salinity: probe((at) => 34.6 + daily(at, 0.05)),
        dissolved_oxygen: probe(falls, { noise: 0.03 }),
      },
    });
    await night.to("2026-05-12 04:00");
    const standing = (await alarms())
      .filter(({ state }) => state === "UNACK")
      .map(({ quantity }) => quantity);
    expect(standing).toContain("level");
    expect(standing).toContain("dissolved_oxygen");
    expect(await night.page("/systems/kelp-column")).not.toContain("out of the water");
  });
});
