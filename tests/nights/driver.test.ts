import { afterEach, beforeEach, expect, test } from "vitest";
import { DAY, HOUR, MINUTE } from "#core/time/instant.ts";
import { daily, ramp } from "./courses.ts";
import { type SiteDescription, wallTime } from "./description.ts";
import { Night } from "./play.ts";

const ZONE = "America/St_Johns";
const h = (text: string) => wallTime(text, ZONE);
const SITE: SiteDescription = {
  code: "harbour-rock",
  name: "Harbour Rock",
  zone: ZONE,
  latitude: 47.5,
  longitude: -52.7,
  elevation: 12,
  gateways: {
    steady: {},
    keeps: { away: [[h("2026-10-07 00:30"), h("2026-10-07 03:30")]] },
    loses: { dead: [[h("2026-10-07 00:30"), h("2026-10-07 03:30")]] },
    fast: { ahead: 2 * MINUTE },
  },
  systems: {
    "cold-pool": {
      name: "Cold Pool",
      kind: "cold marine, wolffish",
      water: "marine",
      volume: 60,
      points: {
        display: {
          probes: {
            temperature: {
              gateway: "steady",
              every: 5 * MINUTE,
              critical: true,
              noise: 0.02,
              decimals: 2,
              course: (at) => 7 + ramp(at, h("2026-10-07 02:00"), 0.5),
            },
            ph: { gateway: "keeps", every: 5 * MINUTE, decimals: 2, course: (at) => 8 + daily(at, 0.03) },
            salinity: { gateway: "loses", every: 5 * MINUTE, decimals: 2, course: () => 32 },
            orp: { gateway: "fast", every: 5 * MINUTE, decimals: 0, course: () => 320 },
          },
        },
      },
      bands: { temperature: [5, 8, 3, 9.5], ph: [7.8, 8.2, 7.6, 8.4] },
    },
  },
};

interface Series {
  readonly columns: { readonly at: readonly number[]; readonly mean: readonly number[] };
}

let night: Night;
beforeEach(async () => {
  night = await Night.open(SITE, { from: "2026-10-06 18:00" });
});
afterEach(() => night.close());

const read = async (quantity: string, from: string, to: string) => {
  const span = `from=${new Date(h(from)).toISOString()}&to=${new Date(h(to)).toISOString()}`;
  const address = `/systems/cold-pool/series?quantity=${quantity}&point=display&resolution=raw&${span}`;
  return (await night.get<Series>(address)).columns;
};

test("a night is played through broker, evaluator, API and pages on the site's own clock", async () => {
  await night.to("2026-10-07 02:00");
  expect((await read("ph", "2026-10-07 00:00", "2026-10-07 02:00")).at).toHaveLength(6);
  await night.log("feed", ["cold-pool"], "capelin, whole ration");
  await night.bench("cold-pool", { nitrate: ["4.0", "mg/L"] });

  await night.to("2026-10-07 07:00");
  const kept = await read("ph", "2026-10-07 00:00", "2026-10-07 07:00");
  expect(kept.at).toHaveLength(7 * 12);
  expect(kept.at[0]).toBe(h("2026-10-07 00:00"));
  expect((await read("salinity", "2026-10-07 00:00", "2026-10-07 07:00")).at).toHaveLength(4 * 12);
  expect((await read("orp", "2026-10-07 00:00", "2026-10-07 07:00")).at[0]).toBe(h("2026-10-07 00:02"));
  const { mean } = await read("temperature", "2026-10-07 06:00", "2026-10-07 07:00");
  expect(mean.at(-1)).toBeCloseTo(9.5, 0);

  const [alarm] = (
    await night.get<{ alarms: { quantity: string; raised: number }[] }>("/alarms")
  ).alarms.filter(({ quantity }) => quantity === "temperature");
  // Half a degree an hour from 02:00 is seen within the hour, on the night's clock and not on the machine's.
  expect(alarm?.raised).toBeGreaterThan(h("2026-10-07 02:00"));
  expect(alarm?.raised).toBeLessThan(h("2026-10-07 03:00"));
  expect(await night.page("/overnight")).toMatch(/Temperature 9\.\d °C, above its band \(8\.0\) since 04:/);
  expect(await night.page("/systems")).toContain("Wed 7 Oct 2026, 07:00 GMT-2:30");
  const pool = await night.page("/systems/cold-pool");
  expect(pool).toContain("Nitrate bench");
  expect(await night.page("/logbook")).toContain("capelin, whole ration");
});

test("looks are taken while it plays, and a machine that was off takes what was kept", async () => {
  const seen: number[] = [];
  night.lookEvery(2 * HOUR, async () => {
    seen.push(night.now);
  });
  await night.to("2026-10-06 20:00");
  await night.stopAccepting();
  await night.stopEvaluating();
  await night.to("2026-10-06 22:00");
  expect((await read("ph", "2026-10-06 20:01", "2026-10-06 22:00")).at).toHaveLength(0);
  await night.startAccepting();
  await night.startEvaluating();
  await night.to("2026-10-06 22:05");
  expect((await read("ph", "2026-10-06 20:01", "2026-10-06 22:00")).at).toHaveLength(24 - 1);
  expect(seen).toEqual([h("2026-10-06 20:00"), h("2026-10-06 22:00")]);
  await night.to(night.now + DAY);
  expect(night.now).toBe(h("2026-10-07 22:05"));
});
