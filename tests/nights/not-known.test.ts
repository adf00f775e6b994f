/** What is not known says why, and the why is so. */
import { afterEach, expect, test } from "vitest";
import { HOUR, MINUTE } from "#core/time/instant.ts";
import { daily } from "./courses.ts";
import { type SiteDescription, wallTime } from "./description.ts";
import { Night } from "./play.ts";

const ZONE = "America/Lima";
const h = (text: string) => wallTime(text, ZONE);
const SITE: SiteDescription = {
  code: "pier-house",
  name: "Pier House",
  zone: ZONE,
  latitude: -12,
  longitude: -77,
  elevation: 20,
  gateways: { main: { dead: [[h("2026-03-04 03:00"), h("2026-03-05 12:00")]] }, aux: {} },
  systems: {
    rockpool: {
      name: "Rockpool",
      kind: "temperate marine",
      water: "marine",
      volume: 9,
      points: {
        display: {
          probes: {
            temperature: {
              gateway: "main",
              every: 10 * MINUTE,
              critical: true,
              decimals: 1,
              course: (at) => 17 + daily(at, 0.3),
            },
            ph: {
              gateway: "aux",
              every: 10 * MINUTE,
              noise: 0.01,
              decimals: 2,
              course: (at) => 8.05 + daily(at, 0.04),
            },
          },
        },
      },
      bands: { temperature: [15, 19, 13, 21], unionised_ammonia: [null, 0.01, null, 0.02] },
    },
  },
};

let night: Night;
afterEach(() => night.close());

test("un-ionised ammonia names the input that is missing, one after the other, and never a test that is there", async () => {
  night = await Night.open(SITE, { from: "2026-03-03 08:00", tick: 10 * MINUTE });
  const why = async () =>
    /Un-ionised ammonia(?:[^\n]*\n?){1,4}/.exec(await night.page("/systems/rockpool"))?.[0] ?? "";
  await night.to("2026-03-03 20:00");
  await night.bench("rockpool", { total_ammonia: ["0.05", "mg/L"] });
  await night.to("2026-03-03 21:00");
  expect(await why()).toContain("salinity not known");
  expect(await night.page("/systems")).not.toContain("TAN test");

  await night.bench("rockpool", { salinity: ["34.5", "PSU"] });
  await night.to("2026-03-03 21:30");
  expect(await why()).toMatch(/0\.00\d/);

  await night.to("2026-03-04 05:00");
  expect(await why()).toContain("temperature not known");
  await night.to(night.now + 9 * 24 * HOUR);
  await night.bench("rockpool", { salinity: ["34.5", "PSU"] });
  await night.to(night.now + HOUR);
  expect(await why()).toContain("TAN test missing or too old");
});
