/** Each system with everything that is set up for it, and the look-ups that are made of a whole set-up. */
import type { TargetBand } from "../habitat/band.ts";
import type { Loop, Plan, Point, Resident, SetUp, Site, Stream, System } from "./set-up.ts";

/** One system with everything that is set up for it. */
export interface SystemSetUp {
  readonly system: System;
  readonly site: Site;
  readonly points: readonly Point[];
  readonly streams: readonly Stream[];
  readonly bands: readonly TargetBand[];
  readonly plans: readonly Plan[];
  readonly residents: readonly Resident[];
  readonly loops: readonly Loop[];
}
/** Set-up with its look-ups made once. */
export interface IndexedSetUp {
  readonly setUp: SetUp;
  readonly systems: readonly SystemSetUp[];
  readonly byCode: ReadonlyMap<string, SystemSetUp>;
  readonly byId: ReadonlyMap<string, SystemSetUp>;
  readonly streams: ReadonlyMap<number, Stream>;
}

function groupBy<T>(rows: readonly T[], key: (row: T) => string): (id: string) => readonly T[] {
  const groups = new Map<string, T[]>();
  for (const row of rows) {
    const group = groups.get(key(row));
    if (group) group.push(row);
    else groups.set(key(row), [row]);
  }
  return (id) => groups.get(id) ?? [];
}

/** Throws where a system belongs to a site that is not among them. */
export function indexSetUp(setUp: SetUp): IndexedSetUp {
  const sites = new Map(setUp.sites.map((site) => [site.id, site]));
  const points = groupBy(setUp.points, (row) => row.system);
  const streams = groupBy(setUp.streams, (row) => row.system);
  const bands = groupBy(setUp.bands, (row) => row.system);
  const plans = groupBy(setUp.plans, (row) => row.system);
  const residents = groupBy(setUp.residents, (row) => row.system);
  const systems = setUp.systems.map((system): SystemSetUp => {
    const site = sites.get(system.site);
    if (!site) throw new Error(`system ${system.code} belongs to a site that does not exist`);
    return {
      system,
      site,
      points: points(system.id),
      streams: streams(system.id),
      bands: bands(system.id),
      plans: plans(system.id),
      residents: residents(system.id),
      loops: setUp.loops.filter((loop) => loop.members.includes(system.id)),
    };
  });
  return {
    setUp,
    systems,
    byCode: new Map(systems.map((row) => [row.system.code, row])),
    byId: new Map(systems.map((row) => [row.system.id, row])),
    streams: new Map(setUp.streams.map((stream) => [stream.id, stream])),
  };
}
