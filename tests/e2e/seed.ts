/** A small invented site with two days behind it, written through the store before the processes start. */
import { guessedRole } from "#core/set-up/guessed-role.ts";
import { DAY, HOUR, MINUTE } from "#core/time/instant.ts";
import type { BandEdges, NewReading, Store, System } from "#store/port.ts";

export const SITE = "north";

interface Probe {
  readonly point: string;
  readonly quantity: string;
  readonly band?: readonly [number | null, number | null, number | null, number | null];
  /** Value at a time, in hours before now; null leaves a gap. */
  readonly value: (hoursAgo: number) => number | null;
  readonly critical?: boolean;
  readonly interval?: number | null;
}
interface Pool {
  readonly code: string;
  readonly name: string;
  readonly kind: string;
  readonly water: System["water"];
  readonly volume: number;
  readonly probes: readonly Probe[];
}

const day = (hoursAgo: number, size: number) => size * Math.sin((hoursAgo / 24) * 2 * Math.PI);
const steady = (middle: number, swing: number) => (h: number) =>
  middle + day(h, swing) + swing * 0.15 * Math.sin(h * 7);

export const POOLS: readonly Pool[] = [
  {
    code: "kelp-gallery",
    name: "Kelp Gallery",
    kind: "temperate marine",
    water: "marine",
    volume: 210,
    probes: [
      {
        point: "display",
        quantity: "temperature",
        band: [14.4, 16.2, 12, 18],
        value: steady(15.5, 0.3),
        critical: true,
      },
      { point: "display", quantity: "salinity", band: [32.5, 34.5, 31.5, 35.5], value: steady(33.5, 0.05) },
      {
        point: "display",
        quantity: "ph",
        band: [7.9, 8.2, 7.7, 8.4],
        value: (h) => (h > 20 && h < 23 ? null : 8 + day(h, 0.06)),
      },
      { point: "display", quantity: "dissolved_oxygen", band: [7.5, 8.6, 7, null], value: steady(8, 0.2) },
      { point: "display", quantity: "orp", band: [280, 380, 200, 450], value: steady(330, 8) },
      { point: "contact-chamber", quantity: "orp", band: [680, 740, 550, 800], value: steady(704, 10) },
      { point: "pump-1", quantity: "flow", band: [60, 75, 40, null], value: steady(66, 1) },
      { point: "pump-2", quantity: "flow", band: [60, 75, 40, null], value: steady(65, 1) },
      { point: "sump", quantity: "level", band: [1300, 1550, 1240, 1610], value: steady(1420, 20) },
    ],
  },
  {
    code: "jelly-ring",
    name: "Jelly Ring",
    kind: "jelly",
    water: "marine",
    volume: 3.2,
    probes: [
      {
        point: "display",
        quantity: "temperature",
        band: [13, 15, 11, 17],
        value: steady(14, 0.1),
        critical: true,
      },
      {
        point: "display",
        quantity: "total_gas_pressure",
        band: [100, 101.5, null, 103],
        value: (h) => (h > 11 ? 101.2 : Math.min(106.4, 101.2 + (11 - h) * 4)),
      },
      {
        point: "display",
        quantity: "dissolved_oxygen",
        band: [7.4, 8.5, 6.8, null],
        value: steady(8.3, 0.1),
      },
    ],
  },
  {
    code: "rift-terrace",
    name: "Rift Terrace",
    kind: "hard alkaline fresh",
    water: "fresh",
    volume: 9,
    probes: [
      {
        point: "display",
        quantity: "temperature",
        band: [25, 27, 23, 29],
        value: (h) => (h < 0.7 ? null : 26 + 0.05 * Math.sin(h * 7)),
        critical: true,
        interval: 5 * MINUTE,
      },
      {
        point: "display",
        quantity: "specific_conductance",
        band: [560, 680, 450, 800],
        value: steady(620, 4),
      },
      { point: "display", quantity: "turbidity", band: [null, 1, null, 3], value: steady(1.4, 0.1) },
    ],
  },
  {
    code: "river-giants",
    name: "Giants’ acclimation pool with a rather long name",
    kind: "temperate fresh",
    water: "fresh",
    volume: 160,
    probes: [
      {
        point: "display",
        quantity: "temperature",
        band: [10.5, 14, 8, 17],
        value: steady(12.2, 0.1),
        critical: true,
      },
      { point: "display", quantity: "ph", value: steady(7.61, 0.03) },
    ],
  },
];

function edgesOf(band: NonNullable<Probe["band"]>): BandEdges {
  const [low, high, actionLow, actionHigh] = band;
  return { low, high, actionLow, actionHigh, urgentLow: null, urgentHigh: null };
}

const STEP = 5 * MINUTE;

/** Writes the site, its bands and two days of readings that end at `now`. */
export async function seedSite(store: Store, now: number): Promise<void> {
  const opened = now - 400 * DAY;
  await store.writeSetUp(
    {
      sites: [
        {
          id: "site",
          code: SITE,
          name: "North House",
          zone: "Europe/London",
          latitude: 51,
          longitude: 0,
          elevation: 20,
        },
      ],
      systems: POOLS.map(({ code, name, kind, water, volume }) => ({
        id: code,
        site: "site",
        code,
        name,
        kind,
        water,
        volume,
        duty: null,
        opened,
        closed: null,
        type: "exhibit",
        startingBands: null,
        youngFilter: false,
      })),
      points: POOLS.flatMap(({ code, probes }) =>
        [...new Set([...probes.map((p) => p.point), "display", "pump-1"])].map((point) => ({
          id: `${code}/${point}`,
          system: code,
          code: point,
          role: guessedRole(point),
          roleGuessed: true,
          twinOf: null,
        })),
      ),
      bands: POOLS.flatMap(({ code, probes }) =>
        probes.flatMap(({ point, quantity, band }) =>
          band === undefined
            ? []
            : [
                {
                  id: `${code}/${point}/${quantity}`,
                  system: code,
                  quantity,
                  point,
                  months: [edgesOf(band)],
                  validFrom: opened,
                  validTo: null,
                  recordedAt: opened,
                  setBy: "curator",
                  reason: "for the test",
                  source: "invented",
                },
              ],
        ),
      ),
    },
    [],
    now,
  );
  const source = await store.ensureSource("gateway-1", "gateway");
  for (const { code, probes } of POOLS) {
    const readings: NewReading[] = [];
    for (const { point, quantity, value, critical = false, interval = null } of probes) {
      const { id } = await store.ensureStream(`${code}/${point}`, quantity, "probe", { critical, interval });
      for (let at = now - 2 * DAY; at < now - MINUTE; at += STEP) {
        const read = value((now - at) / HOUR);
        if (read !== null)
          readings.push({ stream: id, at, value: read, source: source.id, sequence: null, mark: null });
      }
    }
    await store.append({ now, readings, rejected: [], unclaimed: [] });
  }
}
