/** Weeks of bench tests: what a run says before its limit is reached, and what it says no longer. Invented water. */
import { afterEach, expect, test } from "vitest";
import type { SystemsView } from "#contract/views.ts";
import { DAY, MINUTE } from "#core/time/instant.ts";
import { daily } from "./courses.ts";
import type { SiteDescription } from "./description.ts";
import { Night } from "./play.ts";

const SITE: SiteDescription = {
  code: "atoll",
  name: "Atoll Room",
  zone: "Indian/Maldives",
  latitude: 4,
  longitude: 73,
  elevation: 2,
  gateways: { hut: {} },
  systems: {
    "ray-lagoon": {
      name: "Ray Lagoon",
      kind: "tropical marine",
      water: "marine",
      volume: 200,
      points: {
        display: {
          probes: {
            temperature: {
              gateway: "hut",
              every: 60 * MINUTE,
              critical: true,
              noise: 0.03,
              decimals: 2,
              course: (at) => 26 + daily(at, 0.2),
            },
          },
        },
      },
      bands: {
        temperature: [24, 28, 22, 30],
        nitrate: [null, 30, null, 50],
        total_ammonia: [null, 0.3, null, 1],
      },
    },
  },
};

let night: Night;
afterEach(() => night.close());
const standing = async () => (await night.get<SystemsView>("/systems")).systems[0]?.standing;

test("five weekly nitrate tests that rise without a break are the sentence of the week, with rate, dates and what a water change buys", async () => {
  night = await Night.open(SITE, { from: "2026-04-01 09:00", tick: 60 * MINUTE });
  await night.to(night.now + DAY);
  for (const [week, value] of ["18", "21", "23", "26"].entries()) {
    if (week > 0) await night.to(night.now + 7 * DAY);
    await night.bench("ray-lagoon", { nitrate: [value, "mg/L"] });
    expect(await standing(), `week ${week}`).toBe("calm");
  }
  await night.to(night.now + 7 * DAY);
  await night.bench("ray-lagoon", { nitrate: ["29", "mg/L"] });
  // 29 of at most 30: in its band still, and said all the same.
  const page = await night.page("/systems/ray-lagoon");
  expect(page).toMatch(
    /Nitrate rising by 10\.8\d mg\/L as N in 28 days, 5 bench tests show it, 0\.3\d to 0\.4\d mg\/L as N a day/,
  );
  expect(page).toMatch(/reaches 50\.0 mg\/L as N between 1\d Jun and 2\d Jun/);
  expect(page).toMatch(/changing 20 % for water with none of it buys about 1\d days/);
  expect(await night.page("/overnight")).toContain("Nitrate rising by 10.8");
  expect(await standing()).toBe("look");

  // A water change: what went up comes down, and nothing is going up any more.
  await night.to(night.now + 7 * DAY);
  await night.bench("ray-lagoon", { nitrate: ["19", "mg/L"] });
  await night.to(night.now + DAY);
  expect(await night.page("/overnight")).not.toContain("Nitrate rising by");
  expect(await standing()).toBe("calm");
});
