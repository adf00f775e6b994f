/** What the bench form needs beside the small site: bands of what is tested by hand, and tests of the last weeks. */
import { DAY, HOUR } from "#core/time/instant.ts";
import type { BandEdges, Store } from "#store/port.ts";
import { seedSite } from "./seed.ts";

const SYSTEM = "kelp-gallery";
const POINT = `${SYSTEM}/display`;

const edges = (
  low: number | null,
  high: number | null,
  actionLow: number | null,
  actionHigh: number | null,
): BandEdges => ({ low, high, actionLow, actionHigh, urgentLow: null, urgentHigh: null });
const BANDS: Readonly<Record<string, BandEdges>> = {
  total_ammonia: edges(null, 0.1, null, 0.3),
  unionised_ammonia: edges(null, 0.01, null, 0.02),
  nitrite: edges(null, 0.1, null, 0.5),
  nitrate: edges(null, 25, null, 60),
  alkalinity: edges(2.1, 3, 1.8, 4),
};

/** Three tests, the newest two days old: what stands beside the fields. */
const TESTS: readonly { readonly daysAgo: number; readonly values: Readonly<Record<string, string>> }[] = [
  {
    daysAgo: 16,
    values: { total_ammonia: "0.05", nitrite: "0.02", nitrate: "6.1", alkalinity: "2.41", ph: "8.02" },
  },
  {
    daysAgo: 9,
    values: { total_ammonia: "0.04", nitrite: "0.02", nitrate: "6.2", alkalinity: "2.38", ph: "8.00" },
  },
  {
    daysAgo: 2,
    values: { total_ammonia: "0.05", nitrite: "0.03", nitrate: "6.3", alkalinity: "2.40", ph: "8.01" },
  },
];
const UNITS: Readonly<Record<string, string>> = {
  total_ammonia: "mg{N}/L",
  nitrite: "mg{N}/L",
  nitrate: "mg{N}/L",
  alkalinity: "meq/L",
  ph: "[pH]",
};

export async function seedBench(store: Store, now: number): Promise<void> {
  await seedSite(store, now);
  const opened = now - 400 * DAY;
  await store.writeSetUp(
    {
      bands: Object.entries(BANDS).map(([quantity, months]) => ({
        id: `${SYSTEM}/bench/${quantity}`,
        system: SYSTEM,
        quantity,
        point: "display",
        months: [months],
        validFrom: opened,
        validTo: null,
        recordedAt: opened,
        setBy: "curator",
        reason: "for the test",
        source: "invented",
      })),
    },
    [],
    now,
  );
  for (const { daysAgo, values } of TESTS) {
    const sampledAt = now - daysAgo * DAY;
    const results = [];
    for (const [quantity, typed] of Object.entries(values)) {
      const stream = await store.ensureStream(POINT, quantity, "bench");
      results.push({
        id: `result-${daysAgo}-${quantity}`,
        stream: stream.id,
        quantity,
        typed,
        qualifier: "=" as const,
        unitTyped: UNITS[quantity] ?? "",
        value: Number(typed),
        method: quantity === "nitrate" ? "colorimetric kit" : null,
        replicate: 1,
        supersedes: null,
        reason: null,
        answer: null,
        asked: null,
      });
    }
    await store.recordBench(
      {
        id: `test-${daysAgo}`,
        clientId: `seed-${daysAgo}`,
        system: SYSTEM,
        point: POINT,
        sampledAt,
        enteredAt: sampledAt + HOUR / 4,
        analyst: "aquarist",
        note: null,
        results,
      },
      sampledAt + HOUR / 4,
    );
  }
}
