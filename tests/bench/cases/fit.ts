/** Fit of a year, ten systems and six quantities through the service, beside a raw scan of the same 15-minute rows. */
import BetterSqlite3 from "better-sqlite3";
import { QUARTER_HOUR } from "#core/quality/rollup.ts";
import { DAY } from "#core/time/instant.ts";
import { listHomeWater } from "#services/home-water/list-home-water.ts";
import { audited } from "#services/permission.ts";
import { temporaryStore } from "#tests/helpers/open-store.ts";
import { type BenchOptions, type BenchRow, median, scaled, timed } from "../bench-row.ts";
import { setUpBenchSite } from "../invented-site.ts";
import { readingDeps } from "../reading-deps.ts";

export const name = "fit";

const SYSTEMS = 10;
const QUANTITIES = [
  "temperature",
  "salinity",
  "specific_conductance",
  "ph",
  "dissolved_oxygen",
  "oxygen_saturation",
];
const START = Date.parse("2025-01-01T00:00:00Z");
const END = Date.parse("2026-01-01T00:00:00Z");
const ACTOR = { id: "bench", name: "bench", kind: "person", grants: [], mustChange: false } as const;

/** Twelve months of a range that the invented water leaves about half of the time. */
const entries = QUANTITIES.flatMap((quantity) =>
  Array.from({ length: 12 }, (_, i) => ({
    quantity,
    stage: null,
    month: i + 1,
    low: 14.6 + i / 100,
    typical: null,
    high: 15.6 - i / 100,
    means: "author's stated range" as const,
    kind: "ambient" as const,
    depth: null,
    place: null,
    years: null,
    source: "invented",
    mark: "read" as const,
    method: null,
    confidence: "low" as const,
    note: null,
  })),
);

export async function run({ scale, say }: BenchOptions): Promise<BenchRow[]> {
  const { store, file, dispose } = await temporaryStore();
  try {
    const site = await setUpBenchSite(store, SYSTEMS, START - DAY);
    const streams: number[] = [];
    for (const system of site.systems)
      for (const quantity of QUANTITIES) {
        const point = site.streams.find(
          (stream) => stream.system === system && stream.pointCode === "display",
        )?.point;
        if (point === undefined) throw new Error(`${system} has no display`);
        streams.push((await store.ensureStream(point, quantity, "probe")).id);
      }
    const profile = {
      id: "p",
      species: "fish",
      population: null,
      version: 1,
      latitude: 33,
      longitude: -117,
      entries,
      recordedAt: START,
      recordedBy: "bench",
      reason: "bench",
    };
    const residents = site.systems.map((system) => ({
      ...{
        id: `r-${system}`,
        animal: `a-${system}`,
        system,
        species: "fish",
        speciesName: "fish",
        population: null,
        name: null,
        sex: null,
      },
      ...{ stage: "adult" as const, count: 1, from: START - DAY, to: null, ended: null },
    }));
    const species = [
      {
        id: "fish",
        name: "fish",
        scientific: null,
        group: null,
        development: [],
        mayDelay: null,
        delaySource: null,
        facts: [],
      },
    ];
    await store.writeHabitat(
      { species, profiles: [profile], setUp: { residents } },
      [],
      START,
      audited(ACTOR, START, "bench", "habitat:bench", {}),
    );
    const bare = new BetterSqlite3(file);
    bare.pragma("synchronous = OFF");
    const fill = bare.prepare(
      `with recursive n(i) as (select 0 union all select i + 1 from n where i + 1 < ?)
       insert into rollup (width, stream, start, n, good, min, max, sum, first, last)
       select ${QUARTER_HOUR}, ?, ? + i * ${QUARTER_HOUR}, 3, 3, 14, 16, 3 * (15 + sin(i / 45.8) + (i * 7 % 11) * 0.01), 15, 15 from n`,
    );
    const per = (END - START) / QUARTER_HOUR;
    for (const stream of streams) fill.run(per, stream, START);
    say(`  ${streams.length * per} quarter hours stored`);
    const scan = bare
      .prepare(
        `select start, good, sum from rollup where width = ${QUARTER_HOUR} and stream = ? and start >= ? and start < ?`,
      )
      .raw();
    const deps = readingDeps(store, () => END);
    const [ours, theirs]: [number[], number[]] = [[], []];
    let scored = 0;
    for (let n = -1; n < scaled(9, scale, 3); n += 1) {
      const mine = await timed(async () => {
        const view = await listHomeWater(deps, { year: 2025 });
        scored = view.systems.flatMap(({ fits }) => fits).reduce((sum, { year }) => sum + year.scored, 0);
      });
      const reference = await timed(() => {
        for (const stream of streams) scan.all(stream, START, END);
      });
      if (n < 0) continue;
      ours.push(mine);
      theirs.push(reference);
    }
    bare.close();
    if (scored < streams.length * per * 0.99)
      throw new Error(`${scored} quarter hours scored of ${streams.length * per}`);
    return [
      {
        what: `fit of a year, ${SYSTEMS} systems, ${QUANTITIES.length} quantities (${scored} quarter hours)`,
        unit: "ms",
        ours: median(ours),
        reference: median(theirs),
        referenceIs: "a raw scan of the same rows",
        target: { of: "ours", atMost: 1_000 },
      },
    ];
  } finally {
    await dispose();
  }
}
