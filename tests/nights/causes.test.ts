/** What the night person is told to check first, and what must never stand there. Water, people and machines are invented. */
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { HOUR, MINUTE } from "#core/time/instant.ts";
import { approach, type Course, daily, ramp, type WordCourse } from "./courses.ts";
import {
  type ProbeDescription,
  type SiteDescription,
  type SystemDescription,
  wallTime,
} from "./description.ts";
import { Night } from "./play.ts";

const ZONE = "Asia/Tokyo";
const h = (text: string) => wallTime(text, ZONE);
const START = h("2026-11-05 01:00");

const probe = (course: Course | WordCourse, more: Partial<ProbeDescription> = {}): ProbeDescription => ({
  gateway: "plant",
  every: 5 * MINUTE,
  decimals: 2,
  course,
  ...more,
});

interface Given {
  readonly temperature?: Course;
  readonly oxygen?: Course;
  readonly flow?: Course;
  readonly pump?: WordCourse;
  readonly ph?: Course;
}
const pool = (name: string, base: number, given: Given = {}): SystemDescription => ({
  name,
  kind: "cold marine",
  water: "marine",
  volume: 120,
  points: {
    display: {
      probes: {
        temperature: probe(given.temperature ?? ((at) => base + daily(at, 0.05)), {
          critical: true,
          noise: 0.02,
        }),
        dissolved_oxygen: probe(given.oxygen ?? ((at) => 8.4 + daily(at, 0.05)), {
          critical: true,
          noise: 0.02,
        }),
        salinity: probe(() => 33.8, { noise: 0.02 }),
        ph: probe(given.ph ?? ((at) => 8.02 + daily(at, 0.02)), { noise: 0.005 }),
      },
    },
    "pump-1": {
      role: "equipment",
      probes: {
        pump: probe(given.pump ?? (() => "running")),
        flow: probe(given.flow ?? (() => 110), { noise: 1, decimals: 0 }),
      },
    },
  },
  bands: {
    temperature: [base - 1.5, base + 1.2, base - 3, base + 2.4],
    dissolved_oxygen: [7.6, 10, 6.6, null],
    salinity: [32, 35, 30, 36],
    ph: [7.8, 8.3, 7.6, 8.6],
    flow: [90, null, 60, null],
  },
});

const site = (systems: Readonly<Record<string, SystemDescription>>): SiteDescription => ({
  code: "rikuchu",
  name: "Cape Hall",
  zone: ZONE,
  latitude: 39.6,
  longitude: 142,
  elevation: 15,
  gateways: { plant: {} },
  systems: {
    "wolf-eel-den": pool("Wolf-eel Den", 9),
    "crab-shelf": pool("Crab Shelf", 10),
    "kelp-edge": pool("Kelp Edge", 13),
    ...systems,
  },
  loops: { "cold-loop": { name: "Cold loop", kind: "chilled", systems: ["wolf-eel-den", "crab-shelf"] } },
});

let night: Night;
afterEach(() => night.close());
const open = async (systems: Readonly<Record<string, SystemDescription>>) => {
  night = await Night.open(site(systems), { from: "2026-11-03 16:00" });
};
const checked = (page: string) => [...page.matchAll(/^Check first: (.*)$/gm)].map(([, text = ""]) => text);

describe("a pump that trips", () => {
  beforeEach(() =>
    open({
      "kelp-edge": pool("Kelp Edge", 13, {
        pump: (at) => (at >= START ? "tripped" : "running"),
        flow: (at) => (at >= START ? 20 : 110),
        oxygen: (at) => 8.4 + daily(at, 0.05) - ramp(at, START + 10 * MINUTE, 1.1),
      }),
    }),
  );

  test("is one row, the oxygen that follows 40 minutes later in it, and its advice stands once", async () => {
    await night.to("2026-11-05 03:30");
    const page = await night.page("/overnight");
    const groups = await night.get<{ groups: { items: { finding: string; others?: object[] }[] }[] }>(
      "/overnight",
    );
    const items = groups.groups.flatMap((group) => group.items);
    expect(items).toHaveLength(1);
    expect(items[0]?.others?.length).toBeGreaterThanOrEqual(2);
    expect(page).toMatch(/Belongs to it, in order of time\n01:\d\d .*\n/);
    const order = [...page.matchAll(/^(01|02|03):(\d\d) /gm)].map(
      ([, hour, minute]) => Number(hour) * 60 + Number(minute),
    );
    expect(order).toEqual([...order].sort((a, b) => a - b));
    expect(new Set(checked(page))).toEqual(
      new Set([
        "The pump panel; restart it or start the standby, turn on air, stop feeding. Isolate and lock out the supply before putting hands in the water.",
      ]),
    );
    expect(page.match(/^Likely: /gm)).toHaveLength(1);
    expect(page).not.toMatch(/Heater|fouled probe|Clean the probe/);
  });
});

test("water below its band that comes back is not told of a heater stuck on", async () => {
  await open({
    "kelp-edge": pool("Kelp Edge", 13, {
      temperature: (at) => 13 + daily(at, 0.05) - approach(at, START - 10 * HOUR, 2.6, HOUR, START),
    }),
  });
  const never: string[] = [];
  await night.to("2026-11-04 15:30");
  night.lookEvery(HOUR, async () => {
    never.push(await night.page("/overnight"));
  });
  await night.to("2026-11-05 07:00");
  expect(never.join("\n")).toContain("Temperature 1");
  expect(never.join("\n")).not.toMatch(/Heater stuck on/);
});

test("two pools of one loop that warm together point at the loop first, and one alone at its own machines", async () => {
  const warms = (base: number) => (at: number) => base + daily(at, 0.05) + ramp(at, START, 0.45);
  await open({
    "wolf-eel-den": pool("Wolf-eel Den", 9, { temperature: warms(9) }),
    "crab-shelf": pool("Crab Shelf", 10, { temperature: warms(10) }),
  });
  await night.to("2026-11-05 05:00");
  const page = await night.page("/overnight");
  expect(checked(page)[0]).toMatch(/^The loop's own sensor/);
  expect(page.match(/^Likely: /gm)).toHaveLength(1);
  await night.close();

  await open({ "kelp-edge": pool("Kelp Edge", 13, { temperature: warms(13) }) });
  await night.to("2026-11-05 05:00");
  expect(checked(await night.page("/overnight"))[0]).toMatch(/^Isolate the heater at the board/);
});

test("a dose of base that stands in the log explains the pH that rises", async () => {
  await open({
    "kelp-edge": pool("Kelp Edge", 13, { ph: (at) => 8.02 + approach(at, START, 0.5, 30 * MINUTE) }),
  });
  await night.to("2026-11-05 01:00");
  await night.bench("kelp-edge", { total_ammonia: ["0.2", "mg/L"] });
  await night.log("dosing", ["kelp-edge"], "soda ash to the sump", { amount: 2, unit: "kg" });
  await night.to("2026-11-05 04:30");
  const page = await night.page("/overnight");
  expect(page).toContain("Likely: A dose raised the pH");
  expect(page).not.toMatch(/No known cause fits|The pH probe has drifted/);
});
