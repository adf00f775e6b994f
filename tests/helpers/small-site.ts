/** A site with two systems for tests: invented, small, with bands that are easy to reason about. */
import type { BandEdges, SetUp, Store, Stream } from "#store/port.ts";

const MINUTE = 60_000;
export const edges = (given: Partial<BandEdges>): BandEdges => ({
  low: null,
  high: null,
  actionLow: null,
  actionHigh: null,
  urgentLow: null,
  urgentHigh: null,
  ...given,
});

export interface SmallSite {
  readonly streams: Readonly<
    Record<"temperature" | "conductivity" | "ph" | "oxygen" | "flow" | "pump" | "tan", Stream>
  >;
  readonly gateway: number;
  readonly history: number;
}

/** Sets up "bay" (marine, 40 m3, display point) on site "test-house" in Europe/London and gives its streams. */
export async function setUpSmallSite(store: Store, now: number): Promise<SmallSite> {
  const band = (quantity: string, given: Partial<BandEdges>): SetUp["bands"][number] => ({
    id: `band-${quantity}`,
    system: "bay-id",
    quantity,
    point: null,
    months: [edges(given)],
    validFrom: 0,
    validTo: null,
    recordedAt: 0,
    setBy: "test",
    reason: "test",
    source: "invented for the test",
  });
  await store.writeSetUp(
    {
      sites: [
        {
          id: "site-id",
          code: "test-house",
          name: "Test house",
          zone: "Europe/London",
          latitude: 50,
          longitude: -4,
          elevation: 20,
        },
      ],
      systems: [
        {
          id: "bay-id",
          site: "site-id",
          code: "bay",
          name: "Bay",
          kind: "temperate marine",
          water: "marine",
          volume: 40,
          duty: 60,
          opened: 0,
          closed: null,
          type: "exhibit",
          startingBands: null,
          youngFilter: false,
        },
      ],
      points: [
        {
          id: "display-id",
          system: "bay-id",
          code: "display",
          role: "exhibit",
          roleGuessed: false,
          twinOf: null,
        },
        {
          id: "pump-id",
          system: "bay-id",
          code: "pump-1",
          role: "equipment",
          roleGuessed: false,
          twinOf: null,
        },
      ],
      bands: [
        band("temperature", { low: 14, high: 16, actionLow: 12, actionHigh: 18, urgentHigh: 19 }),
        band("salinity", { low: 33, high: 34, actionLow: 31, actionHigh: 36 }),
        band("ph", { low: 7.9, high: 8.2, actionLow: 7.7, actionHigh: 8.4 }),
        band("unionised_ammonia", { high: 0.01, actionHigh: 0.02 }),
        band("oxygen_saturation", { low: 90, high: 105, actionLow: 85 }),
        band("flow", { low: 48, actionLow: 30 }),
      ],
    },
    [],
    now,
  );
  const probe = (quantity: string, minutes: number) =>
    store.ensureStream("display-id", quantity, "probe", { interval: minutes * MINUTE, critical: true });
  const streams = {
    temperature: await probe("temperature", 5),
    conductivity: await probe("conductivity", 5),
    ph: await probe("ph", 5),
    oxygen: await probe("dissolved_oxygen", 5),
    flow: await probe("flow", 1),
    pump: await store.ensureStream("pump-id", "pump", "equipment", { interval: 5 * MINUTE, critical: true }),
    tan: await store.ensureStream("display-id", "total_ammonia", "bench"),
  };
  const gateway = await store.ensureSource("gateway", "gateway");
  const history = await store.ensureSource("gateway history", "history");
  return { streams, gateway: gateway.id, history: history.id };
}
