/** A sender that stops is one thing to know, and a machine that was off is nobody's silence. Invented site. */
import { afterEach, expect, test } from "vitest";
import type { OvernightView } from "#contract/views.ts";
import { MINUTE } from "#core/time/instant.ts";
import { daily } from "./courses.ts";
import { type GatewayDescription, type SiteDescription, wallTime } from "./description.ts";
import { Night } from "./play.ts";

const ZONE = "Australia/Adelaide";
const h = (text: string) => wallTime(text, ZONE);
const NAMES = ["Weedy Bed", "Cuttle Cave", "Ray Shallows", "Port Wall"] as const;
const codeOf = (name: string) => name.toLowerCase().replace(" ", "-");

const site = (north: GatewayDescription, south: GatewayDescription = {}): SiteDescription => ({
  code: "gulf",
  name: "Gulf House",
  zone: ZONE,
  latitude: -35,
  longitude: 138,
  elevation: 5,
  gateways: { "gateway-north": north, "gateway-south": south },
  systems: Object.fromEntries(
    NAMES.map((name, i) => {
      const gateway = i < 3 ? "gateway-north" : "gateway-south";
      const probe = (base: number) => ({
        gateway,
        every: 5 * MINUTE,
        critical: true,
        noise: 0.02,
        decimals: 2,
        course: (at: number) => base + daily(at, 0.05),
      });
      return [
        codeOf(name),
        {
          name,
          kind: "temperate marine",
          water: "marine" as const,
          volume: 20,
          points: {
            display: {
              probes: { temperature: probe(16), ph: probe(8.05), dissolved_oxygen: probe(8) },
            },
          },
          bands: {
            temperature: [14, 18, 12, 20],
            ph: [7.8, 8.3, 7.6, 8.5],
            dissolved_oxygen: [7, 9, 6, null],
          },
        },
      ];
    }),
  ),
});

let night: Night;
afterEach(() => night.close());

test("a gateway that stops is one row, named, with its streams and systems, and one press answers it", async () => {
  night = await Night.open(site({ dead: [[h("2026-09-09 23:56"), h("2026-09-10 12:00")]] }), {
    from: "2026-09-08 20:00",
  });
  await night.to("2026-09-10 02:00");
  const view = await night.get<OvernightView>("/overnight");
  const items = view.groups.flatMap((group) => group.items);
  expect(items).toHaveLength(1);
  expect(items[0]?.others).toHaveLength(8);
  const page = await night.page("/overnight");
  expect(page).toContain("9 streams on 3 systems, all sent by gateway-north, silent since Wed 23:55");
  expect(page).toContain("Acknowledge 9");
  expect(page).not.toMatch(/Port Wall needs|fouled|Heater/);
  expect(page).toMatch(/^Check first: Send somebody with a handheld meter/m);
});

test("a machine that was off for hours greets with nothing that its probes did not do", async () => {
  const off = [[h("2026-09-09 22:00"), h("2026-09-10 05:00")]] as const;
  night = await Night.open(site({ dead: off }, { dead: off }), { from: "2026-09-08 20:00" });
  await night.to("2026-09-09 22:00");
  await night.stopAccepting();
  await night.stopEvaluating();
  await night.to("2026-09-10 04:00");
  // Somebody tests by hand meanwhile: that does not say that the probes were silent.
  await night.bench("weedy-bed", { nitrate: ["2", "mg/L"] });
  await night.to("2026-09-10 05:00");
  await night.startEvaluating();
  await night.startAccepting();
  await night.to("2026-09-10 07:00");
  const view = await night.get<OvernightView>("/overnight");
  expect(view.findings.map((row) => row.says)).toEqual([]);
  expect(view.summary.unanswered).toBe(0);
});
