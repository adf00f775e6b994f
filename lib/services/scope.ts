import { EVERYWHERE, type Grant, may } from "#core/people/index.ts";
import { type IndexedSetUp, indexSetUp } from "#core/set-up/system-set-up.ts";
import type { Actor, ReadDeps } from "./deps.ts";
import { AppError } from "./errors.ts";
import { demandSomewhere, placeOf } from "./permission.ts";
import type { SetUpReader } from "./set-up.ts";

/** The set-up without the systems that these grants do not let read, and without what belongs to them. */
export function narrowed(index: IndexedSetUp, grants: readonly Grant[]): IndexedSetUp {
  const seen = new Set(
    index.systems.filter((at) => may(grants, "read", placeOf(at))).map((at) => at.system.id),
  );
  const { setUp } = index;
  const own = <T extends { readonly system: string }>(rows: readonly T[]) =>
    rows.filter((row) => seen.has(row.system));
  const systems = setUp.systems.filter((row) => seen.has(row.id));
  return indexSetUp({
    sites: setUp.sites.filter((site) => systems.some((row) => row.site === site.id)),
    loops: setUp.loops
      .map((loop) => ({ ...loop, members: loop.members.filter((id) => seen.has(id)) }))
      .filter((loop) => loop.members.length > 0),
    systems,
    points: own(setUp.points),
    streams: own(setUp.streams),
    sources: setUp.sources,
    bands: own(setUp.bands),
    plans: own(setUp.plans),
    residents: own(setUp.residents),
  });
}

/** A reader whose every answer is narrowed; the same reading is narrowed once. */
function narrowReader(reader: SetUpReader, grants: readonly Grant[]): SetUpReader {
  const kept = new WeakMap<IndexedSetUp, IndexedSetUp>();
  const narrow = (index: IndexedSetUp): IndexedSetUp => {
    const known = kept.get(index) ?? narrowed(index, grants);
    kept.set(index, known);
    return known;
  };
  return {
    read: async (knows) => narrow(await reader.read(knows)),
    readAgain: async () => narrow(await reader.readAgain()),
  };
}

/** What read services may see for each actor. Throws AppError "forbidden" for anyone who may read nothing. */
export type Scope = (actor: Actor) => ReadDeps;

/** Actors with the same grants share one narrowed view, so that a page costs no more for them than for anybody. */
export function createScope(base: ReadDeps, most = 200): Scope {
  const kept = new Map<string, ReadDeps>();
  return (actor) => {
    demandSomewhere(actor, "read");
    if (may(actor.grants, "read", EVERYWHERE)) return base;
    const key = JSON.stringify(actor.grants);
    const known = kept.get(key);
    if (known) return known;
    if (kept.size >= most) kept.clear();
    const narrow = { ...base, setUp: narrowReader(base.setUp, actor.grants), seesAll: false };
    kept.set(key, narrow);
    return narrow;
  };
}

/** Throws AppError "forbidden" where only some systems may be seen: what is asked for belongs to all of them. */
export function demandAll(deps: Pick<ReadDeps, "seesAll">, what: string): void {
  if (!deps.seesAll)
    throw new AppError(
      "forbidden",
      `${what} covers every system; you need a role for all of them to see it.`,
    );
}
