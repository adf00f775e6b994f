/** An invented site of any size for benchmarks: marine systems alike, with bands, and readings that stay calm except where one drifts. */
import { guessedRole } from "#core/set-up/guessed-role.ts";
import { MINUTE } from "#core/time/instant.ts";
import type { BandEdges, NewReading, SetUp, Store, Stream } from "#store/port.ts";

export const CADENCE = 5 * MINUTE;

interface Probe {
  readonly point: string;
  readonly quantity: string;
  readonly middle: number;
  /** Half the daily swing. */
  readonly swing: number;
  /** [low, high, action low, action high] */
  readonly band: readonly [number | null, number | null, number | null, number | null];
}
/** What one system measures. Bands are wide enough that the ordinary day stays inside. */
const PROBES: readonly Probe[] = [
  { point: "display", quantity: "temperature", middle: 15, swing: 0.4, band: [14, 16, 12, 18] },
  { point: "display", quantity: "conductivity", middle: 41, swing: 0.1, band: [null, null, null, null] },
  { point: "display", quantity: "ph", middle: 8.05, swing: 0.06, band: [7.9, 8.2, 7.7, 8.4] },
  { point: "display", quantity: "dissolved_oxygen", middle: 8.1, swing: 0.2, band: [7.2, 8.8, 6.5, null] },
  { point: "display", quantity: "orp", middle: 330, swing: 10, band: [280, 380, 200, 450] },
  { point: "contact-chamber", quantity: "orp", middle: 704, swing: 12, band: [650, 740, 550, 800] },
  { point: "pump-1", quantity: "flow", middle: 66, swing: 1, band: [60, 75, 40, null] },
  { point: "pump-2", quantity: "flow", middle: 65, swing: 1, band: [60, 75, 40, null] },
  { point: "sump", quantity: "level", middle: 1_420, swing: 20, band: [1_300, 1_550, 1_240, 1_610] },
  { point: "display", quantity: "turbidity", middle: 0.4, swing: 0.1, band: [null, 1, null, 3] },
  {
    point: "filter-outlet",
    quantity: "dissolved_oxygen",
    middle: 8.3,
    swing: 0.1,
    band: [7.2, 8.9, 6.5, null],
  },
  { point: "filter-outlet", quantity: "temperature", middle: 15.1, swing: 0.3, band: [14, 16, 12, 18] },
];
/** Streams that are measured, and with salinity and two of oxygen saturation those that stand on every page. */
export const MEASURED_PER_SYSTEM = PROBES.length;

export interface BenchSite {
  readonly source: number;
  /** In the order of the probes, system by system. */
  readonly streams: readonly Stream[];
  readonly systems: readonly string[];
}

const edges = ([low, high, actionLow, actionHigh]: Probe["band"]): BandEdges => ({
  low,
  high,
  actionLow,
  actionHigh,
  urgentLow: null,
  urgentHigh: null,
});

export async function setUpBenchSite(
  store: Store,
  systems: number,
  opened: number,
  code = "bench-house",
): Promise<BenchSite> {
  const codes = Array.from({ length: systems }, (_, n) => `hall-${n + 1}`);
  const points = [...new Set(PROBES.map((probe) => probe.point))];
  const site: SetUp["sites"][number] = {
    id: "bench-site",
    code,
    name: "Bench house",
    zone: "Europe/London",
    latitude: 51,
    longitude: 0,
    elevation: 20,
  };
  await store.writeSetUp(
    {
      sites: [site],
      systems: codes.map((code) => ({
        id: code,
        site: site.id,
        code,
        name: code,
        kind: "temperate marine",
        water: "marine",
        volume: 40,
        duty: 66,
        opened,
        closed: null,
        type: "exhibit",
        startingBands: null,
        youngFilter: false,
      })),
      points: codes.flatMap((system) =>
        points.map((code) => ({
          id: `${system}/${code}`,
          system,
          code,
          role: guessedRole(code),
          roleGuessed: true,
          twinOf: null,
        })),
      ),
      bands: codes.flatMap((system) =>
        PROBES.filter(({ band }) => band.some((edge) => edge !== null)).map(({ point, quantity, band }) => ({
          id: `${system}/${point}/${quantity}`,
          system,
          quantity,
          point,
          months: [edges(band)],
          validFrom: opened,
          validTo: null,
          recordedAt: opened,
          setBy: "bench",
          reason: "for the benchmark",
          source: "invented",
        })),
      ),
    },
    [],
    opened,
  );
  const source = await store.ensureSource("bench-gateway", "gateway");
  const streams: Stream[] = [];
  for (const system of codes) {
    for (const { point, quantity } of PROBES) {
      const critical = quantity === "temperature" && point === "display";
      streams.push(
        await store.ensureStream(`${system}/${point}`, quantity, "probe", { interval: CADENCE, critical }),
      );
    }
  }
  return { source: source.id, streams, systems: codes };
}

const DAY_MS = 24 * 60 * MINUTE;

/** The value of the n-th stream of a site at an instant: a daily swing, a little unrest, and in every 10th system a slow drift. */
export function valueAt(n: number, at: number): number {
  const { middle, swing } = PROBES[n % PROBES.length] as Probe;
  const unrest = ((at / CADENCE) * 7 + n * 13) % 11;
  const system = Math.floor(n / PROBES.length);
  const drift = system % 10 === 3 ? 4 * swing * Math.sin((at / DAY_MS) * 2.1) : 0;
  const value =
    middle + swing * Math.sin(((at % DAY_MS) / DAY_MS) * 2 * Math.PI + n) + drift + swing * 0.01 * unrest;
  return Math.round(value * 1_000) / 1_000;
}

/** All streams at one instant. */
export function readingsAt({ streams, source }: BenchSite, at: number): NewReading[] {
  return streams.map(({ id }, n) => ({
    stream: id,
    at,
    value: valueAt(n, at),
    source,
    sequence: null,
    mark: null,
  }));
}
