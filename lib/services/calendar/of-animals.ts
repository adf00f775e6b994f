import type { CalendarItem } from "#contract/calendar.ts";
import {
  type BreedingEvent,
  type BreedingWatch,
  breedingWindow,
  countedWindow,
  watchedSpans,
} from "#core/habitat/index.ts";
import type { Instant } from "#core/time/instant.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import type { Habitat, Resident } from "#store/port.ts";
import { nameOfStay } from "../habitat/habitat-write.ts";
import { eventWords, watchedName } from "../habitat/living-views.ts";
import type { SystemSetUp } from "../set-up.ts";
import { itemOf, type Month, touches } from "./item.ts";

const residentsAt = (at: SystemSetUp) => `/set-up/systems/${encodeURIComponent(at.system.code)}#residents`;
const breedingAt = (at: SystemSetUp) => `/set-up/systems/${encodeURIComponent(at.system.code)}#breeding`;
const animalPage = (stay: Resident) => `/animals/${encodeURIComponent(stay.animal)}`;

function standOf(watch: BreedingWatch, latest: Instant | null, month: Month): CalendarItem["stand"] {
  if (watch.endedAt !== null) return "done";
  if (latest !== null && month.now >= latest) return "overdue";
  const { earliest } = countedWindow(watch);
  return earliest === null || month.now >= earliest ? "going on" : "expected";
}

function watchWords(watch: BreedingWatch, at: SystemSetUp, overdue: boolean): string {
  const { earliest, latest } = countedWindow(watch);
  const { zone } = at.site;
  const day = (edge: Instant) => `${clockOf(zone).dayMonth(edge)} ${clockOf(zone).year(edge)}`;
  const open = watch.narrowed === null ? breedingWindow(watch).unbounded : null;
  const from = earliest === null ? "first day not known" : `from ${day(earliest)}`;
  const to =
    latest === null
      ? `, no latest date: ${open ?? "not known"}`
      : `${earliest === null ? "," : ""} to ${day(latest)}`;
  const what = watch.kind === "gestation" ? "birth" : "hatching";
  return `${watchedName(watch, at)}: ${what} expected, ${from}${to}${overdue ? ", overdue" : ""}${watch.outcome === null ? "" : `; ${watch.outcome}`}`;
}

/** The windows of breeding watches where they count: first + shortest to last + longest, open where an edge is, ended by their outcome. */
export function watchItems(at: SystemSetUp, habitat: Pick<Habitat, "watches">, month: Month): CalendarItem[] {
  return habitat.watches.flatMap((watch) => {
    const { earliest, latest } = countedWindow(watch);
    const stand = standOf(watch, latest, month);
    return watchedSpans(watch, at.residents, at.system.id).flatMap((span, i): CalendarItem[] => {
      // Past its late edge a watch goes on until somebody says how it ended.
      const edge = stand === "overdue" || watch.endedAt !== null ? null : latest;
      const ends = [span.to, edge].filter((end): end is Instant => end !== null);
      const to = ends.length === 0 ? null : Math.min(...ends);
      const from = earliest === null && i === 0 ? null : span.from;
      if ((to !== null && to <= span.from) || !touches(month, from, to, to === null)) return [];
      const says = watchWords(watch, at, stand === "overdue");
      return [
        itemOf(at, {
          id: `${watch.id}/${at.system.code}/${i}`,
          kind: "watch",
          says,
          stand,
          from,
          to,
          open: to === null,
          href: breedingAt(at),
        }),
      ];
    });
  });
}

function eventItem(at: SystemSetUp, event: BreedingEvent): CalendarItem {
  const stay = at.residents.find((row) => row.animal === event.animal);
  const who = stay === undefined ? "" : `${nameOfStay(stay)}: `;
  const { live, dead } = event.data as { live?: number; dead?: number };
  const born = `${live ?? 0} found alive${(dead ?? 0) > 0 ? `, ${dead} dead` : ""}`;
  const isBirth = event.kind === "birth";
  return itemOf(at, {
    id: event.id,
    kind: isBirth ? "birth" : "breeding",
    says: `${who}${isBirth ? born : eventWords(event)}`,
    stand: "done",
    from: event.at,
    href: breedingAt(at),
  });
}

/** Births, and what was seen in watches; the count of each night would bury them. */
export function breedingItems(
  at: SystemSetUp,
  { breedingEvents }: Pick<Habitat, "breedingEvents">,
  month: Month,
): CalendarItem[] {
  const replaced = new Set(breedingEvents.map(({ supersedes }) => supersedes));
  return breedingEvents
    .filter(
      (event) =>
        event.system === at.system.id &&
        event.kind !== "count" &&
        !replaced.has(event.id) &&
        touches(month, event.at, null, false),
    )
    .map((event) => eventItem(at, event));
}

/** Changes of stage and moves, recorded or dated ahead; `stays` may be of any system. */
export function stayItems(at: SystemSetUp, stays: readonly Resident[], month: Month): CalendarItem[] {
  const stand = (when: Instant) => (when > month.now ? "expected" : "done");
  const inside = (when: Instant | null): when is Instant =>
    when !== null && touches(month, when, null, false);
  const came = at.residents
    .filter((stay) => inside(stay.from))
    .map((stay) => {
      const before = stays.find(
        (row) => row.animal === stay.animal && row.to === stay.from && row.id !== stay.id,
      );
      const isStage = before?.system === stay.system;
      const how =
        before === undefined ? "moves in" : isStage ? `${before.stage} to ${stay.stage}` : "moves here";
      return itemOf(at, {
        id: `in/${stay.id}`,
        kind: isStage ? "stage" : "move",
        says: `${nameOfStay(stay)}: ${how}`,
        stand: stand(stay.from),
        from: stay.from,
        href: animalPage(stay),
      });
    });
  const left = at.residents
    .filter(
      (stay) => inside(stay.to) && !stays.some((row) => row.animal === stay.animal && row.from === stay.to),
    )
    .map((stay) =>
      itemOf(at, {
        id: `out/${stay.id}`,
        kind: "move",
        says: `${nameOfStay(stay)}: ${stay.ended ?? "leaves"}`,
        stand: stand(stay.to ?? 0),
        from: stay.to,
        href: residentsAt(at),
      }),
    );
  return [...came, ...left];
}
