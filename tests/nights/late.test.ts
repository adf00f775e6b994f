/** What comes late: a condition that still holds at the newest reading rings, and what ended before it became known does not. Invented water. */
import { afterEach, describe, expect, test } from "vitest";
import type { AlarmsView } from "#contract/answers.ts";
import type { OvernightView } from "#contract/views.ts";
import { HOUR, MINUTE } from "#core/time/instant.ts";
import { approach, daily } from "./courses.ts";
import { type GatewayDescription, type SiteDescription, wallTime } from "./description.ts";
import { Night } from "./play.ts";

const ZONE = "Africa/Maputo";
const h = (text: string) => wallTime(text, ZONE);
const FALLS = h("2026-08-20 01:00");
const BACK = h("2026-08-20 03:00");

const site = (gateway: GatewayDescription, isMended: boolean): SiteDescription => ({
  code: "estuary",
  name: "Estuary House",
  zone: ZONE,
  latitude: -25.9,
  longitude: 32.6,
  elevation: 4,
  gateways: { inlet: gateway, office: {} },
  systems: {
    sandbar: {
      name: "Sandbar",
      kind: "warm marine, guitarfish",
      water: "marine",
      volume: 140,
      points: {
        display: {
          probes: {
            temperature: {
              gateway: "office",
              every: 5 * MINUTE,
              critical: true,
              noise: 0.02,
              decimals: 2,
              course: (at) => 24 + daily(at, 0.1),
            },
            dissolved_oxygen: {
              gateway: "inlet",
              every: 5 * MINUTE,
              critical: true,
              noise: 0.02,
              decimals: 2,
              course: (at) =>
                6.9 - approach(at, FALLS, 2.6, 30 * MINUTE, isMended ? BACK : Number.POSITIVE_INFINITY),
            },
          },
        },
      },
      bands: {
        temperature: [22, 26, 20, 28],
        dissolved_oxygen: [6.2, 8, 5.4, null],
        copper: [null, 0.05, null, 0.1],
        nitrite: [null, 0.2, null, 0.5],
      },
    },
  },
});

let night: Night;
afterEach(() => night.close());
const open = async (gateway: GatewayDescription, isMended = false) => {
  night = await Night.open(site(gateway, isMended), { from: "2026-08-18 16:00" });
};
/** Alarms of oxygen out of its band; that of a link that was away is another thing. */
const ofOxygen = async () =>
  (await night.get<AlarmsView>("/alarms")).alarms.filter(
    ({ quantity, finding }) => quantity === "dissolved_oxygen" && finding?.kind === "out of band",
  );

describe("oxygen that falls to below its limit", () => {
  test.each([
    ["a gateway whose clock is 20 minutes behind", { ahead: -20 * MINUTE }, "2026-08-20 01:55"],
    ["a logger that sends its readings every half hour", { block: 30 * MINUTE }, "2026-08-20 02:05"],
    ["a link that takes 40 minutes", { delay: 40 * MINUTE }, "2026-08-20 02:30"],
  ])("rings through %s", async (_, gateway, by) => {
    await open(gateway);
    await night.to("2026-08-20 00:55");
    expect(await ofOxygen()).toEqual([]);
    await night.to(by);
    const [alarm] = await ofOxygen();
    expect(alarm).toMatchObject({ state: "UNACK" });
    expect(await night.page("/systems")).toContain("1 needs action");
    await night.to("2026-08-20 07:00");
    expect(await night.page("/overnight")).toMatch(/Dissolved oxygen 4\.\d\d mg\/L, below its band/);
    // One question, asked once.
    expect(await ofOxygen()).toHaveLength(1);
  });

  test("rings at the end of a long absence where it still holds, and once only when evaluating starts anew", async () => {
    await open({ away: [[h("2026-08-19 22:00"), h("2026-08-20 04:02")]] });
    await night.to("2026-08-20 04:04");
    await night.stopEvaluating();
    await night.startEvaluating();
    await night.to("2026-08-20 04:10");
    const standing = await ofOxygen();
    expect(standing).toHaveLength(1);
    expect(standing[0]).toMatchObject({ state: "UNACK" });
    expect(standing[0]?.raised).toBeGreaterThanOrEqual(h("2026-08-20 04:02"));
    expect(standing[0]?.finding?.says).toContain("found late");
    await night.to("2026-08-20 07:00");
    expect(await ofOxygen()).toHaveLength(1);
  });

  test("does not ring where it was over before it became known, and is in the night's list", async () => {
    await open({ away: [[h("2026-08-19 22:00"), h("2026-08-20 05:02")]] }, true);
    await night.to("2026-08-20 07:00");
    expect(await ofOxygen()).toEqual([]);
    const { findings } = await night.get<OvernightView>("/overnight");
    const fall = findings.find(
      ({ kind, quantity }) => kind === "out of band" && quantity === "dissolved_oxygen",
    );
    expect(fall).toMatchObject({ late: true, severity: "action" });
    expect(fall?.ended).not.toBeNull();
  });
});

test("a laboratory's result of yesterday and one typed in the evening ring when they come", async () => {
  await open({});
  await night.to("2026-08-19 10:00");
  await night.bench("sandbar", { nitrite: ["0.1", "mg/L"] });
  await night.to("2026-08-20 00:30");
  await night.bench("sandbar", { copper: ["0.14", "mg/L"] }, { at: h("2026-08-18 18:00") });
  await night.bench("sandbar", { nitrite: ["0.7", "mg/L"] }, { at: night.now - 9 * HOUR });
  const rang = (await night.get<AlarmsView>("/alarms")).alarms;
  expect(rang.map(({ quantity, state }) => [quantity, state]).sort()).toEqual([
    ["copper", "UNACK"],
    ["nitrite", "UNACK"],
  ]);
});

test("what arrives today about yesterday is in today's list, although it was over long before", async () => {
  await open({ away: [[h("2026-08-19 01:00"), h("2026-08-20 22:00")]] }, true);
  await night.to("2026-08-21 07:00");
  const { findings, from } = await night.get<OvernightView>("/overnight");
  const fall = findings.find(
    ({ kind, quantity }) => kind === "out of band" && quantity === "dissolved_oxygen",
  );
  expect(fall).toMatchObject({ late: true, severity: "action" });
  expect(fall?.ended).toBeLessThan(from);
  expect(await night.page("/overnight")).toMatch(/Dissolved oxygen was below its band .* found late/);
  // It was today's news: tomorrow it is none.
  await night.to("2026-08-22 07:00");
  expect(await night.page("/overnight")).not.toContain("found late");
});
