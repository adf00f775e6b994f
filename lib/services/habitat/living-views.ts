/** Residents and breeding watches of a system as they are shown. */

import type { StayView, WatchView } from "#contract/habitat.ts";
import type { PupPoolView } from "#contract/night-counts.ts";
import {
  type BreedingEvent,
  type BreedingWatch,
  breedingWindow,
  countWords,
  holds,
  isWatched,
  type NightCount,
  profileFor,
  standOf,
  watchedSpans,
} from "#core/habitat/index.ts";
import type { Instant } from "#core/time/instant.ts";
import type { Habitat, Resident } from "#store/port.ts";
import type { ReadDeps } from "../deps.ts";
import type { IndexedSetUp, SystemSetUp } from "../set-up.ts";
import { nameOfStay } from "./habitat-write.ts";
import { readPupPool } from "./pup-pool.ts";

/** Who came first stands first; of those that came together the known by name, then by name or species. */
export const byArrival = (a: Resident, b: Resident): number =>
  a.from - b.from ||
  Number(a.name === null) - Number(b.name === null) ||
  nameOfStay(a).localeCompare(nameOfStay(b), "en");

export const stayView = (stay: Resident, habitat: Pick<Habitat, "profiles">): StayView => ({
  id: stay.id,
  animal: stay.animal,
  species: stay.species,
  speciesName: stay.speciesName,
  population: stay.population,
  name: stay.name,
  sex: stay.sex,
  stage: stay.stage,
  count: stay.count,
  massKg: stay.mass ?? null,
  massSource: stay.massSource ?? null,
  from: stay.from,
  to: stay.to,
  ended: stay.ended,
  hasProfile: profileFor(habitat.profiles, stay.species, stay.population) !== undefined,
});

export function eventWords({ kind, data }: BreedingEvent): string {
  if (kind === "count") {
    const count = data as unknown as NightCount & { readonly note: string | null };
    return `night count: ${countWords(count)}${count.note === null ? "" : `. ${count.note}`}`;
  }
  if (kind === "pup pool") return `pup pool: ${String(data.name)}`;
  const parts = Object.entries(data)
    .filter(
      ([key, value]) => value !== null && value !== undefined && key !== "kind" && typeof value !== "object",
    )
    .map(([key, value]) => `${key} ${String(value)}`);
  return parts.length > 0 ? `${kind}: ${parts.join(", ")}` : kind;
}

/** Who a watch is of, as known in this system. */
export function watchedName(watch: Pick<BreedingWatch, "animal">, at: SystemSetUp): string {
  const stay = at.residents.filter((row) => row.animal === watch.animal).sort((a, b) => b.from - a.from)[0];
  return stay ? nameOfStay(stay) : watch.animal;
}

/** Watches that were opened in a system or that count in it because their animal lives there, newest first. */
export const watchesOf = (at: SystemSetUp, habitat: Pick<Habitat, "watches">): BreedingWatch[] =>
  habitat.watches
    .filter(
      (watch) => watch.system === at.system.id || watchedSpans(watch, at.residents, at.system.id).length > 0,
    )
    .toReversed();

/** The watches of a system, each with the pool kept ready for its young. */
export async function watchViews(
  deps: Pick<ReadDeps, "store">,
  index: IndexedSetUp,
  at: SystemSetUp,
  habitat: Habitat,
  now: Instant,
): Promise<WatchView[]> {
  const { breedingEvents } = habitat;
  return Promise.all(
    watchesOf(at, habitat).map(async (watch) =>
      watchView(
        watch,
        at,
        breedingEvents,
        await readPupPool(deps, index, watch, at, breedingEvents, now),
        now,
      ),
    ),
  );
}

function watchView(
  watch: BreedingWatch,
  at: SystemSetUp,
  events: readonly BreedingEvent[],
  pool: PupPoolView | null,
  now: Instant,
): WatchView {
  const window = breedingWindow(watch);
  const spans = watchedSpans(watch, at.residents, at.system.id);
  return {
    id: watch.id,
    animal: watch.animal,
    who: watchedName(watch, at),
    species: watch.species,
    kind: watch.kind,
    first: watch.first,
    last: watch.last,
    shortestDays: watch.shortestDays,
    longestDays: watch.longestDays,
    source: watch.source,
    earliest: window.earliest,
    latest: window.latest,
    unbounded: window.unbounded,
    narrowed: watch.narrowed && { ...watch.narrowed },
    stand: standOf(watch, now),
    spans: spans.map((span) => ({ ...span })),
    watched: isWatched(watch, now) && spans.some((span) => holds(span, now)),
    pool,
    outcome: watch.outcome,
    ended: watch.endedAt,
    events: events
      .filter((event) => event.watch === watch.id)
      .map((event) => ({
        id: event.id,
        kind: event.kind,
        at: event.at,
        by: event.by,
        says: eventWords(event),
      })),
  };
}
