import { dayWords, watchWords } from "#app/_components/words/habitat-words.ts";
import type { WatchView } from "#contract/habitat.ts";
import type { ZoneClock } from "#core/time/zone-clock.ts";

/** A stretch of time in which a birth or hatching is awaited in a system, as a bar over its charts. */
export interface WatchBar {
  readonly id: string;
  readonly from: number;
  /** Infinity where it is not bounded. */
  readonly to: number;
  /** Past the late edge of the window, and not ended. */
  readonly isOver: boolean;
  /** Short: "Tuppence: birth expected". */
  readonly label: string;
  /** Whole, with the window and what not to do in it. */
  readonly says: string;
}

const NOT_NOW = "no set-point ramps, no planned catch-ups";

/** The bars of a system's watches, by their beginning: the window first, what lies past its late edge as a bar of its own. */
export function watchBars(watches: readonly WatchView[], now: number, clock: ZoneClock): WatchBar[] {
  return watches
    .flatMap((watch) => {
      const awaited = watch.kind === "gestation" ? "birth" : "hatching";
      const { latest } = watch.narrowed ?? watch;
      const says = `${watch.who}, ${awaited}: ${watchWords(watch, clock)}; ${NOT_NOW}`;
      return watch.spans.flatMap((span): WatchBar[] => {
        const to = span.to ?? Number.POSITIVE_INFINITY;
        const late = latest ?? Number.POSITIVE_INFINITY;
        const id = `${watch.id}/${span.from}`;
        const window = { id, from: span.from, to: Math.min(to, late), isOver: false, says };
        const over = { id: `${id}/over`, from: Math.max(span.from, late), to, isOver: true, says };
        return [
          ...(window.from < window.to ? [{ ...window, label: `${watch.who}: ${awaited} expected` }] : []),
          // Before the late edge has come nothing is overdue.
          ...(late <= now && over.from < over.to
            ? [{ ...over, label: `${watch.who}: ${awaited} overdue since ${dayWords(late, clock, "")}` }]
            : []),
        ];
      });
    })
    .sort((a, b) => a.from - b.from);
}
