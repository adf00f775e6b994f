import type { Instant } from "#core/time/instant.ts";
import { SECOND } from "#core/time/instant.ts";
import type {
  Loop,
  Plan,
  Point,
  Resident,
  SetUp,
  Site,
  Store,
  Stream,
  System,
  TargetBand,
} from "#store/port.ts";
import { notFound } from "./errors.ts";

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
export interface SetUpReader {
  /** What is set up now; `knows` lists streams that must be in it (they were seen in other rows). */
  read(knows?: readonly number[]): Promise<IndexedSetUp>;
  /** The same, read again unless nothing at all was committed since: for a name that was not found. */
  readAgain(): Promise<IndexedSetUp>;
}

/** A stream created by its first reading writes no set-up entry, so what is remembered is never older than this. */
const OLDEST = SECOND;
const ENTRIES = 500;

function groupBy<T>(rows: readonly T[], key: (row: T) => string): (id: string) => readonly T[] {
  const groups = new Map<string, T[]>();
  for (const row of rows) {
    const group = groups.get(key(row));
    if (group) group.push(row);
    else groups.set(key(row), [row]);
  }
  return (id) => groups.get(id) ?? [];
}

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

/**
 * Remembers what is set up until the journal names a change, a row refers to an unknown stream, or a second has passed since something
 * was committed. Set-up is a few thousand rows and is asked for by every page and ten times a second by the live updates.
 */
export function createSetUpReader(store: Store, clock: () => Instant): SetUpReader {
  let kept: { index: IndexedSetUp; mark: number; seq: number; readAt: Instant } | undefined;

  async function load(mark: number, seq: number): Promise<IndexedSetUp> {
    const index = indexSetUp(await store.readSetUp());
    kept = { index, mark, seq, readAt: clock() };
    return index;
  }

  return {
    async readAgain() {
      const mark = await store.changeMark();
      if (kept?.mark === mark) return kept.index;
      return load(mark, kept?.seq ?? (await store.readCursor()).seq);
    },
    async read(knows = []) {
      const mark = await store.changeMark();
      if (!kept) return load(mark, (await store.readCursor()).seq);
      const { index } = kept;
      const hasAll = knows.every((id) => index.streams.has(id));
      if (hasAll && mark === kept.mark) return index;
      const entries = await store.journalAfter(kept.seq, ENTRIES);
      const seq = entries.at(-1)?.seq ?? kept.seq;
      const changed = entries.length === ENTRIES || entries.some((entry) => entry.kind === "set-up");
      const age = clock() - kept.readAt;
      if (!hasAll || changed || age < 0 || age >= OLDEST) return load(mark, seq);
      // The mark stays the one this set-up was read at: a stream created just now is found when the second is over.
      kept = { ...kept, seq };
      return index;
    },
  };
}

/** What `pick` finds in the set-up. What it refuses is looked for once more in a fresh reading, because it may have been made just now. */
export async function lookUp<T>(reader: SetUpReader, pick: (index: IndexedSetUp) => T): Promise<T> {
  const index = await reader.read();
  try {
    return pick(index);
  } catch (refused) {
    const newest = await reader.readAgain();
    if (newest === index) throw refused;
    return pick(newest);
  }
}

/** The system of that short name; throws AppError "not_found" otherwise. */
export function systemOf(index: IndexedSetUp, code: string): SystemSetUp {
  const found = index.byCode.get(code);
  if (found) return found;
  throw notFound("system", code, "GET /api/v1/systems lists the short names.");
}
