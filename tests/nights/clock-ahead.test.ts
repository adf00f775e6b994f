/** Gateways whose clock runs ahead: what they send is held, told and not believed, until a person places it. Invented water and clocks. */
import { afterEach, describe, expect, test } from "vitest";
import type { AlarmsView } from "#contract/answers.ts";
import type { ClocksView } from "#contract/clocks.ts";
import type { OvernightView, SeriesView } from "#contract/views.ts";
import { HOUR, MINUTE, SECOND } from "#core/time/instant.ts";
import { approach, daily } from "./courses.ts";
import { type GatewayDescription, type SiteDescription, wallTime } from "./description.ts";
import { Night } from "./play.ts";

const ZONE = "America/Santiago";
const h = (text: string) => wallTime(text, ZONE);
const FALLS = h("2026-05-13 01:30");
/** No multiple of any interval here. */
const AHEAD = 47 * MINUTE + 20 * SECOND;

const site = (gateway: GatewayDescription): SiteDescription => ({
  code: "fjord",
  name: "Fjord House",
  zone: ZONE,
  latitude: -41.5,
  longitude: -72.9,
  elevation: 8,
  gateways: { quay: gateway, loft: {} },
  systems: {
    sprats: {
      name: "Sprats",
      kind: "cold marine, schooling fish",
      water: "marine",
      volume: 90,
      points: {
        display: {
          probes: {
            temperature: {
              ...{ gateway: "quay", every: 5 * MINUTE, critical: true, noise: 0.02, decimals: 2 },
              course: (at) => 10.5 + daily(at, 0.1),
            },
            dissolved_oxygen: {
              ...{ gateway: "quay", every: 5 * MINUTE, critical: true, noise: 0.02, decimals: 2 },
              course: (at) => 8.6 - approach(at, FALLS, 3, 20 * MINUTE, Number.POSITIVE_INFINITY),
            },
            salinity: {
              ...{ gateway: "loft", every: 10 * MINUTE, noise: 0.02, decimals: 1 },
              course: () => 32.5,
            },
          },
        },
      },
      bands: { temperature: [9, 12, 8, 13], dissolved_oxygen: [7.8, 9.5, 6.8, null] },
    },
  },
});

let night: Night;
afterEach(() => night.close());
const clocks = async () => (await night.get<ClocksView>("/clocks")).clocks;
const oxygen = async (from: string, to: string) =>
  night.get<SeriesView>(
    `/systems/sprats/series?quantity=dissolved_oxygen&resolution=raw&from=${new Date(h(from)).toISOString()}&to=${new Date(h(to)).toISOString()}`,
  );
const believed = ({ columns }: SeriesView) =>
  columns.at.flatMap((at, i) => ((columns.flag[i] ?? 9) <= 2 ? [[at, columns.mean[i] ?? 0] as const] : []));

describe("a gateway whose clock jumps ahead", () => {
  const from = h("2026-05-13 00:30");
  const right = h("2026-05-13 04:10");
  const open = async () => {
    const jumps: GatewayDescription = { ahead: (at) => (at >= from && at < right ? AHEAD : 0) };
    night = await Night.open(site(jumps), { from: "2026-05-11 18:00" });
  };

  test("is told at once with its size, what it sends does not keep the silence quiet, and placing it judges the water", async () => {
    await open();
    await night.to("2026-05-13 00:25");
    expect(await clocks()).toEqual([]);
    expect(await night.page("/overnight")).not.toContain("Clock:");
    await night.to("2026-05-13 00:35");
    const [known] = await clocks();
    expect(known).toMatchObject({ source: "quay", way: "ahead", state: "held", systems: ["sprats"] });
    expect(Math.abs((known?.offset ?? 0) - AHEAD)).toBeLessThan(2 * SECOND);
    expect(known?.streams).toHaveLength(2);
    for (const page of ["/overnight", "/systems/sprats"])
      expect(await night.page(page)).toMatch(/The clock of quay is 47 min ahead.* since .*held/);

    // Readings keep coming, and what is measured now is still not known.
    await night.to("2026-05-13 03:00");
    const silent = async () =>
      (await night.get<AlarmsView>("/alarms")).alarms.filter(({ finding }) => finding?.kind === "silent");
    expect((await silent()).map(({ quantity }) => quantity).sort()).toEqual([
      "dissolved_oxygen",
      "temperature",
    ]);
    expect(believed(await oxygen("2026-05-13 00:30", "2026-05-13 04:00"))).toEqual([]);

    await night.post(`/clocks/${known?.id}/place`, { clientId: "place-1" });
    const placed = believed(await oxygen("2026-05-13 00:30", "2026-05-13 04:00"));
    expect(placed.length).toBeGreaterThan(25);
    // The water fell at half past one by a right clock, and so it does here.
    expect(placed.filter(([at, value]) => at < FALLS - 2 * MINUTE && value < 8)).toEqual([]);
    expect(placed.filter(([at, value]) => at > FALLS + HOUR && value > 7)).toEqual([]);
    const fall = (await night.get<OvernightView>("/overnight")).findings.find(
      ({ kind, quantity }) => kind === "out of band" && quantity === "dissolved_oxygen",
    );
    expect(fall?.began).toBeGreaterThan(FALLS);
    expect(fall?.began).toBeLessThan(FALLS + HOUR);
    expect(await night.page("/rejected")).toContain("Take it back");

    // What still comes under that clock is placed too, and ends the silence.
    await night.to("2026-05-13 03:30");
    expect((await silent()).filter(({ cleared }) => cleared === null)).toEqual([]);
    const rang = (await night.get<AlarmsView>("/alarms")).alarms.filter(
      ({ quantity, finding }) => quantity === "dissolved_oxygen" && finding?.kind === "out of band",
    );
    expect(rang).toHaveLength(1);

    // Set right, it is believed as it is sent.
    await night.to("2026-05-13 05:30");
    expect((await clocks())[0]).toMatchObject({ state: "placed", until: expect.any(Number) });
    const later = believed(await oxygen("2026-05-13 04:30", "2026-05-13 05:25"));
    expect(later.map(([at]) => at % (5 * MINUTE))).toEqual(later.map(() => 0));
    expect(later.length).toBeGreaterThan(8);

    const [{ placement } = { placement: null }] = await clocks();
    await night.post(`/clock-placements/${placement?.id}/withdraw`, { clientId: "back-1" });
    expect(believed(await oxygen("2026-05-13 00:35", "2026-05-13 03:20"))).toEqual([]);
    expect((await clocks())[0]).toMatchObject({ state: "held", placement: null });
  });

  test("is still known when evaluating starts anew, and who may not place is refused", async () => {
    await open();
    await night.to("2026-05-13 01:00");
    await night.stopEvaluating();
    await night.startEvaluating();
    await night.to("2026-05-13 02:00");
    const known = await clocks();
    expect(known).toHaveLength(1);
    await expect(night.post(`/clocks/${known[0]?.id}/place`, { clientId: "x" }, "aquarist")).rejects.toThrow(
      /may not place readings/,
    );
  });
});

describe("a block that was kept and comes under a clock that is ahead", () => {
  test("is held whole, also what looked merely late, and stands where it was measured once it is placed", async () => {
    const away = [h("2026-05-12 23:00"), h("2026-05-13 03:02")] as const;
    const gateway: GatewayDescription = {
      away: [away],
      ahead: (at) => (at >= away[0] && at < h("2026-05-13 03:10") ? AHEAD : 0),
    };
    night = await Night.open(site(gateway), { from: "2026-05-11 18:00" });
    await night.to("2026-05-13 03:20");
    const [known] = await clocks();
    expect(known).toMatchObject({ state: "held" });
    expect(Math.abs((known?.offset ?? 0) - AHEAD)).toBeLessThan(5 * MINUTE);
    expect((known?.offset ?? 0) + (known?.uncertainty ?? 0)).toBeGreaterThanOrEqual(AHEAD - SECOND);
    expect(believed(await oxygen("2026-05-12 23:10", "2026-05-13 03:05"))).toEqual([]);
    await night.post(`/clocks/${known?.id}/place`, { clientId: "place-1" });
    const placed = believed(await oxygen("2026-05-12 23:00", "2026-05-13 03:05"));
    expect(placed.length).toBeGreaterThan(40);
    expect(placed.filter(([at, value]) => at < FALLS - 6 * MINUTE && value < 8)).toEqual([]);
    expect(placed.filter(([at, value]) => at > FALLS + HOUR && value > 7)).toEqual([]);
  });
});

test("a gateway 20 minutes behind is told with its size and since when, and nothing of it is held", async () => {
  night = await Night.open(site({ ahead: -20 * MINUTE }), { from: "2026-05-12 18:00" });
  await night.to("2026-05-12 23:00");
  const [known] = await clocks();
  expect(known).toMatchObject({ source: "quay", way: "behind", state: "told", offset: 20 * MINUTE });
  expect(await night.page("/overnight")).toContain("What quay sends comes 20 min after its own time");
  expect(believed(await oxygen("2026-05-12 21:00", "2026-05-12 22:00"))).toHaveLength(12);
});
