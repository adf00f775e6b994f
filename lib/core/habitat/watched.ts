/** Where and how long a breeding watch asks for still water, and which set-points of a plan would ramp in it. */
import type { Instant } from "../time/instant.ts";
import { type BreedingWatch, breedingWindow, isWatched } from "./breeding.ts";
import type { Stay } from "./residents.ts";

/** [from, to); null: it goes on. */
export interface WatchedSpan {
  readonly from: Instant;
  readonly to: Instant | null;
}
type Lived = Pick<Stay, "animal" | "system" | "from" | "to">;

/** The edges that count: as a person narrowed them, else as computed; null where an edge is not known or not bounded. */
export function countedWindow(watch: BreedingWatch): {
  readonly earliest: Instant | null;
  readonly latest: Instant | null;
} {
  const { earliest, latest } = watch.narrowed ?? breedingWindow(watch);
  return { earliest, latest };
}

/**
 * The spans in which a watch counts in a system, rising: from its early edge (from its opening where that is not known) until it is ended,
 * also past its late edge. A gestation counts where its animal lives at the time, wherever the watch was opened; eggs stay where they were
 * laid, whoever moves. Empty where it does not count. `stays` may be of any systems and animals.
 */
export function watchedSpans(
  watch: BreedingWatch,
  stays: readonly Lived[],
  system: string,
): readonly WatchedSpan[] {
  const start = countedWindow(watch).earliest ?? watch.openedAt;
  const within = (from: Instant, to: Instant | null): WatchedSpan[] => {
    const ends = [to, watch.endedAt].filter((end): end is Instant => end !== null);
    const span = { from: Math.max(from, start), to: ends.length === 0 ? null : Math.min(...ends) };
    return span.to === null || span.from < span.to ? [span] : [];
  };
  if (watch.kind === "incubation") return watch.system === system ? within(start, null) : [];
  const spans = stays
    .filter((stay) => stay.animal === watch.animal && stay.system === system)
    .flatMap((stay) => within(stay.from, stay.to))
    .sort((a, b) => a.from - b.from);
  const joined: WatchedSpan[] = [];
  for (const span of spans) {
    const last = joined.at(-1);
    // A change of stage ends a stay and begins the next one at the same instant.
    if (!last || (last.to !== null && span.from > last.to)) joined.push(span);
    else {
      const to = last.to === null || span.to === null ? null : Math.max(last.to, span.to);
      joined[joined.length - 1] = { from: last.from, to };
    }
  }
  return joined;
}

export interface WatchedRamps {
  /** Steps between set-points that change while the watch counts, and when the first begins and the last ends. */
  readonly steps: number;
  readonly from: Instant;
  readonly to: Instant;
  /** The largest change of such a step, signed, in the quantity's unit. */
  readonly most: number;
}

/** A step that changes by less is level: less than a display shows. Common practice, no source. */
const LEVEL = 0.05;

/**
 * The steps of a plan (rising instants with values, linear between) that ramp in a system while a watch counts there; null where none does.
 * A step that lies partly in the window counts. Before its late edge has come a watch counts up to it; one that is overdue at `now` has no
 * known end. Source: no set-point ramps while a birth is awaited is common practice, no source.
 */
export function rampsWatched(
  watch: BreedingWatch,
  stays: readonly Lived[],
  system: string,
  setPoints: readonly (readonly [Instant, number])[],
  now: Instant,
): WatchedRamps | null {
  const { latest } = countedWindow(watch);
  const end = latest !== null && now < latest ? latest : Number.POSITIVE_INFINITY;
  const spans = watchedSpans(watch, stays, system);
  const found = setPoints.slice(1).flatMap(([to, value], i) => {
    const [from, before] = setPoints[i] ?? [to, value];
    if (Math.abs(value - before) < LEVEL) return [];
    const shared = spans
      .filter((span) => span.from < to && (span.to === null || span.to > from))
      .map((span) => Math.max(from, span.from))
      .filter((at) => at < end);
    return shared.some((at) => isWatched(watch, at)) ? [{ from, to, change: value - before }] : [];
  });
  const [first] = found;
  if (!first) return null;
  return {
    steps: found.length,
    from: first.from,
    to: Math.max(...found.map((step) => step.to)),
    most: found.reduce((most, { change }) => (Math.abs(change) > Math.abs(most) ? change : most), 0),
  };
}
