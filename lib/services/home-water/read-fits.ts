import type { FitRowView, FitView } from "#contract/home-water.ts";
import { addTallies, fitOf, type MonthHalf, monthHalves, quartersIn, siteMonths } from "#core/fit/index.ts";
import { type FitRow, fitRows, homeStreams } from "#core/home-water/index.ts";
import type { Instant } from "#core/time/instant.ts";
import type { Span } from "#core/time/spans.ts";
import { clockOf } from "#core/time/zone-clock.ts";
import type { Habitat, Store, Stream } from "#store/port.ts";
import type { SystemSetUp } from "../set-up.ts";

export interface StreamFits {
  readonly at: SystemSetUp;
  readonly stream: Stream;
  readonly rows: readonly FitRowView[];
}

/** The year of an instant at a site. */
export const yearAt = (at: Instant, zone: string): number => Number(clockOf(zone).year(at));

/** The part of a year that has been, at a site: [first of January, the end of the year or now). */
export function yearSoFar(year: number, zone: string, now: Instant): Span {
  const months = siteMonths(year, zone);
  const [first, last] = [months[0], months.at(-1)];
  return { from: first?.from ?? 0, to: Math.max(first?.from ?? 0, Math.min(last?.to ?? 0, now)) };
}

interface FitRequest {
  readonly at: SystemSetUp;
  readonly stream: Stream;
  readonly rows: readonly FitRow[];
}

/**
 * Fits of these systems in a year: share of the 15-minute means inside each range, how far the rest missed. The store counts where the means
 * lie; no mean leaves it.
 */
export async function readFits(
  store: Store,
  habitat: Habitat,
  systems: readonly SystemSetUp[],
  year: number,
  now: Instant,
): Promise<StreamFits[]> {
  const halvesOf = new Map<string, readonly MonthHalf[]>();
  const halves = (zone: string) => {
    const known = halvesOf.get(zone) ?? monthHalves(year, zone);
    halvesOf.set(zone, known);
    return known;
  };
  const asked: FitRequest[] = systems.flatMap((at) => {
    const within = yearSoFar(year, at.site.zone, now);
    if (within.from >= within.to) return [];
    return homeStreams(at, habitat.profiles).map((stream) => ({
      at,
      stream,
      rows: fitRows(at, habitat, stream, halves(at.site.zone), within),
    }));
  });
  const stretches = asked.flatMap(({ rows }) => rows.flatMap(({ months }) => months.flat()));
  const tallies = await store.tallyStretches(stretches);
  let taken = 0;
  const next = (count: number) => {
    taken += count;
    return tallies.slice(taken - count, taken);
  };
  return asked.map(({ at, stream, rows }) => ({
    at,
    stream,
    rows: rows.map(({ kind, against, months }): FitRowView => {
      const counted = months.map((month) => ({ month, tally: addTallies(next(month.length)) }));
      const fits = counted.map(({ month, tally }): FitView | null =>
        month.length === 0 ? null : fitOf(tally, quartersIn(month)),
      );
      const whole = fitOf(addTallies(counted.map(({ tally }) => tally)), quartersIn(months.flat()));
      return { kind, against, months: fits, year: whole };
    }),
  }));
}
