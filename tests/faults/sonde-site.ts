/** A site with three systems, each with a sonde of four probes and bands that its record leaves now and then: invented for these tests. */

import { compileSetUp } from "#services/evaluate/settings-of.ts";
import type { BandEdges, SetUp, Store } from "#store/port.ts";
import { edges } from "../helpers/small-site.ts";

export const SITE = "test-house";
export const SYSTEMS = ["bay", "reef", "lagoon"] as const;
export const QUANTITIES = ["temperature", "conductivity", "ph", "dissolved_oxygen"] as const;
export type SondeQuantity = (typeof QUANTITIES)[number];

const BANDS: Readonly<Record<string, Partial<BandEdges>>> = {
  temperature: { low: 14, high: 16, actionLow: 12, actionHigh: 18, urgentHigh: 19 },
  salinity: { low: 32, high: 34, actionLow: 30, actionHigh: 36 },
  ph: { low: 7.9, high: 8.2, actionLow: 7.7, actionHigh: 8.4 },
  oxygen_saturation: { low: 90, high: 110, actionLow: 80 },
  dissolved_oxygen: { low: 7, actionLow: 6 },
};

/**
 * Sets the site up with every stream it will have, derived ones too, so that stream numbers (and with them the names of findings)
 * are the same in every store. `intervalMs` is the pace of the probes.
 */
export async function setUpSondes(
  store: Store,
  options: { readonly now: number; readonly intervalMs: number; readonly critical: boolean },
): Promise<ReadonlyMap<string, number>> {
  const bands: SetUp["bands"] = SYSTEMS.flatMap((system) =>
    Object.entries(BANDS).map(([quantity, given]) => ({
      id: `${system}-${quantity}`,
      system: `${system}-id`,
      quantity,
      point: null,
      months: [edges(given)],
      validFrom: 0,
      validTo: null,
      recordedAt: 0,
      setBy: "test",
      reason: "test",
      source: "invented for the test",
    })),
  );
  await store.writeSetUp(
    {
      sites: [
        {
          id: "site-id",
          code: SITE,
          name: "Test house",
          zone: "Europe/London",
          latitude: 50,
          longitude: -4,
          elevation: 20,
        },
      ],
      systems: SYSTEMS.map((code, index) => ({
        id: `${code}-id`,
        site: "site-id",
        code,
        name: code,
        kind: "temperate marine",
        water: "marine",
        volume: 40 + index * 100,
        duty: null,
        opened: 0,
        closed: null,
        type: "exhibit",
        startingBands: null,
        youngFilter: false,
      })),
      points: SYSTEMS.map((code) => ({
        id: `${code}-display`,
        system: `${code}-id`,
        code: "display",
        role: "exhibit",
        roleGuessed: false,
        twinOf: null,
      })),
      bands,
    },
    [],
    options.now,
  );
  const streams = new Map<string, number>();
  for (const system of SYSTEMS) {
    for (const quantity of QUANTITIES) {
      const stream = await store.ensureStream(`${system}-display`, quantity, "probe", {
        interval: options.intervalMs,
        critical: options.critical,
      });
      streams.set(`${system} ${quantity}`, stream.id);
    }
  }
  await compileSetUp(store);
  return streams;
}
